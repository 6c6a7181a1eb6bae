package brush

import "math"

// lamp is the light that falls on the drawing: one lamp and the sky's evenly spread light. Paper lying flat sends back 1.
type lamp struct {
	to      [3]float32 // towards the lamp; x and y in the drawing, z towards the eye
	direct  float32    // the lamp's share of the light on a flat place
	soft    float32    // how fast a shadow's edge spreads with height: texels per texel
	gloss   [3]float32 // the slope from which a glossy surface mirrors the lamp to the eye
	inverse float32    // of to[2]
}

func newLamp(d dice) lamp {
	height := d.between(30, 80) * math.Pi / 180
	s, c := sincos(height)
	way := d.direction()
	l := lamp{to: [3]float32{float32(way.x * c), float32(way.y * c), float32(s)}, direct: d.between32(0, 0.85)}
	l.soft = d.between32(0.15, 1.2)
	if d.chance(0.25) { // a dull sky
		l.direct, l.soft = d.between32(0, 0.2), d.between32(1, 2)
	}
	half := [3]float32{l.to[0], l.to[1], l.to[2] + 1}
	n := sqrt32(float32(half[0]*half[0]) + float32(half[1]*half[1]) + float32(half[2]*half[2]))
	l.gloss = [3]float32{half[0] / n, half[1] / n, half[2] / n}
	l.inverse = 1 / l.to[2]
	return l
}

// on is the light on a surface with the unit normal (x, y, z), where 1 falls on a flat one.
func (l *lamp) on(x, y, z float32) float32 {
	lit := float32(x*l.to[0]) + float32(y*l.to[1]) + float32(z*l.to[2])
	lit = float32(max(0, lit) * l.inverse)
	return float32((1-l.direct)*(0.5+float32(0.5*z))) + float32(l.direct*lit)
}

// mirror is how well a glossy surface of the normal (x, y, z) mirrors the lamp to the eye, 0..1; sharper for a greater power of two.
func (l *lamp) mirror(x, y, z float32, sharp int) float32 {
	m := max(0, float32(x*l.gloss[0])+float32(y*l.gloss[1])+float32(z*l.gloss[2]))
	for range sharp {
		m = float32(m * m)
	}
	return m
}

// shadowOf is how far from a thing the shadow of a point height texels above the ground falls.
func (l *lamp) shadowOf(height float32) vec {
	k := float32(-height * l.inverse)
	return vec{float64(k * l.to[0]), float64(k * l.to[1])}
}
