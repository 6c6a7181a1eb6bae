package foliage

import "math"

// lamp is the light on the scene: a lamp or the sun, and the sky, a tent or a room around it, all without colour. Together they
// shed 1 on open level ground.
type lamp struct {
	to     vec     // unit vector towards the lamp
	half   vec     // unit vector half way between that and straight up
	direct float64 // the lamp's share of the light on level ground
	spread float64 // tangent of the lamp's half-angle as seen from the plants
	sky    [skies]ray

	slope  [2]float64 // change of all light per mm along x and y
	shades []shade    // thrown by things outside the scene
}

// ray is a direction that the sky's light comes from, with its share of the sky's light on level ground.
type ray struct {
	to    vec
	share float64
}

const skies = 13

// shade is a shadow with straight or bent sides: a bar, a hand, an edge.
type shade struct {
	x, y         float64 // a point of its middle line, mm
	sin, cos     float64 // its direction
	wide         float64 // half-width, mm
	soft         float64 // mm over which it fades
	dark         float64 // share of light taken
	bent, phased float64 // mm that its sides wander
}

// drawLamp draws a light, from hard sun to dull sky.
func drawLamp(d dice) lamp {
	var l lamp
	switch d.pick(0.3, 0.4, 0.3) {
	case 0: // sun or a bare lamp
		l.direct, l.spread = d.between(0.55, 0.95), d.scaled(0.005, 0.05)
	case 1: // a shaded lamp, a window, thin cloud
		l.direct, l.spread = d.between(0.3, 0.75), d.scaled(0.05, 0.3)
	default: // dull sky, a tent, tubes
		l.direct, l.spread = d.between(0, 0.35), d.between(0.2, 0.45)
	}
	elevation := math.Asin(d.between(0.5, 0.995))
	azimuth := d.between(0, 2*math.Pi)
	l.aim(heading(azimuth, elevation))
	l.setSky(d.between(0, 0.9), d.between(0, 2*math.Pi), d.between(0.3, 1.2))
	if d.chance(0.5) {
		run := math.Log(d.scaled(1, 1.5)) / across
		turn := d.between(0, 2*math.Pi)
		l.slope = [2]float64{run * math.Cos(turn), run * math.Sin(turn)}
	}
	if d.chance(0.15) {
		l.shades = drawShades(d)
	}
	return l
}

// aim puts the lamp in a direction.
func (l *lamp) aim(to vec) { l.to, l.half = to, to.plus(vec{0, 0, 1}).unit() }

// setSky spreads the sky's light: one side brighter than the other by lopsided, and the top brighter than the rim by top.
func (l *lamp) setSky(lopsided, azimuth, top float64) {
	bright := heading(azimuth, 30*degree)
	sum := 0.0
	for i := range l.sky {
		to := vec{0, 0, 1}
		solid := 1.0
		switch {
		case i > 4:
			to = heading(2*math.Pi*(float64(i)-0.3)/8, 27*degree)
		case i > 0:
			to = heading(2*math.Pi*float64(i)/4, 58*degree)
			solid = 1.2
		}
		share := solid * to.z * (1 + top*to.z) * (1 + lopsided*to.dot(bright))
		l.sky[i] = ray{to, share}
		sum += share
	}
	for i := range l.sky {
		l.sky[i].share /= sum
	}
}

func drawShades(d dice) []shade {
	angle, dark := d.between(0, math.Pi), d.between(0.2, 0.8)
	soft := d.scaled(0.4, 25)
	s := shade{x: d.between(0, across), y: d.between(0, across), sin: math.Sin(angle), cos: math.Cos(angle),
		wide: d.scaled(6, 70), soft: soft, dark: dark,
		phased: d.between(0, 99)}
	if d.chance(0.5) {
		s.bent = d.between(0, 15)
	}
	shades := []shade{s}
	if d.chance(0.4) { // the bars of a house
		gap := d.between(25, 90)
		for k := -4.0; k <= 4; k++ {
			n := s
			n.wide = min(s.wide, gap/4)
			n.x += k * gap * s.sin
			n.y -= k * gap * s.cos
			shades = append(shades, n)
		}
	}
	return shades
}

// field is what is left of all light at a place, after what lies outside the scene.
func (l *lamp) field(x, y float64) float64 {
	if len(l.shades) == 0 && l.slope == [2]float64{} {
		return 1
	}
	k := 1 + l.slope[0]*(x-across/2) + l.slope[1]*(y-across/2)
	for i := range l.shades {
		s := &l.shades[i]
		along, off := (x-s.x)*s.cos+(y-s.y)*s.sin, (y-s.y)*s.cos-(x-s.x)*s.sin
		if s.bent > 0 {
			off += s.bent * tiles().cloud.at(s.phased+along*0.25, s.phased+off*0.1)
		}
		k *= 1 - s.dark*ramp(s.wide+s.soft/2, s.wide-s.soft/2, math.Abs(off))
	}
	return k
}
