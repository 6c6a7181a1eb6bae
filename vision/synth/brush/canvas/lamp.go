package canvas

import (
	"math"

	"traygauge/vision/synth/brush/num"
)

// Lamp is the light that falls on the drawing: one lamp and the sky's evenly spread light. Paper lying flat sends back 1.
type Lamp struct {
	To      [3]float32 // towards the lamp; x and y in the drawing, z towards the eye
	Direct  float32    // the lamp's share of the light on a flat place
	Soft    float32    // how fast a shadow's edge spreads with height: texels per texel
	gloss   [3]float32 // the slope from which a glossy surface mirrors the lamp to the eye
	inverse float32    // of to[2]
}

// NewLamp draws a lamp, from high to low and from hard to a dull sky.
func NewLamp(d num.Dice) Lamp {
	height := d.Between(30, 80) * math.Pi / 180
	s, c := num.Sincos(height)
	way := d.Direction()
	l := Lamp{To: [3]float32{float32(way.X * c), float32(way.Y * c), float32(s)}, Direct: d.Between32(0, 0.85)}
	l.Soft = d.Between32(0.15, 1.2)
	if d.Chance(0.25) { // a dull sky
		l.Direct, l.Soft = d.Between32(0, 0.2), d.Between32(1, 2)
	}
	half := [3]float32{l.To[0], l.To[1], l.To[2] + 1}
	n := num.Sqrt32(float32(half[0]*half[0]) + float32(half[1]*half[1]) + float32(half[2]*half[2]))
	l.gloss = [3]float32{half[0] / n, half[1] / n, half[2] / n}
	l.inverse = 1 / l.To[2]
	return l
}

// On is the light on a surface with the unit normal (x, y, z), where 1 falls on a flat one.
func (l *Lamp) On(x, y, z float32) float32 {
	lit := float32(x*l.To[0]) + float32(y*l.To[1]) + float32(z*l.To[2])
	lit = float32(max(0, lit) * l.inverse)
	return float32((1-l.Direct)*(0.5+float32(0.5*z))) + float32(l.Direct*lit)
}

// Mirror is how well a glossy surface of the normal (x, y, z) mirrors the lamp to the eye, 0..1; sharper for a greater power of two.
func (l *Lamp) Mirror(x, y, z float32, sharp int) float32 {
	m := max(0, float32(x*l.gloss[0])+float32(y*l.gloss[1])+float32(z*l.gloss[2]))
	for range sharp {
		m = float32(m * m)
	}
	return m
}

// ShadowOf is how far from a thing the shadow of a point height texels above the ground falls.
func (l *Lamp) ShadowOf(height float32) num.Vec {
	k := float32(-height * l.inverse)
	return num.At(float64(k*l.To[0]), float64(k*l.To[1]))
}
