// Package lighting is the light on a scene: one lamp with its shadows, the sky past the leaves, shade from outside, gloss and light that
// comes through. In go the mesh and a spot on it with its coat; out comes the light that the spot sends up, with level paper at 1. It does
// not know plants from anything else.
package lighting

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Lamp is the light on the scene: a lamp or the sun, and the sky, a tent or a room around it, all without colour. Together they
// shed 1 on open level ground.
type Lamp struct {
	To     num.Vec // unit vector towards the lamp
	half   num.Vec // unit vector half way between that and straight up
	Direct float64 // the lamp's share of the light on level ground
	Spread float64 // tangent of the lamp's half-angle as seen from the plants
	Sky    [skies]Ray

	slope  [2]float64 // change of all light per mm along x and y
	shades []shade    // thrown by things outside the scene
}

// Ray is a direction that the sky's light comes from, with its share of the sky's light on level ground.
type Ray struct {
	to    num.Vec
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

// DrawLamp draws a light, from hard sun to dull sky.
func DrawLamp(d num.Dice) Lamp {
	var l Lamp
	switch d.Pick(0.3, 0.4, 0.3) {
	case 0: // sun or a bare lamp
		l.Direct, l.Spread = d.Between(0.55, 0.95), d.Scaled(0.005, 0.05)
	case 1: // a shaded lamp, a window, thin cloud
		l.Direct, l.Spread = d.Between(0.3, 0.75), d.Scaled(0.05, 0.3)
	default: // dull sky, a tent, tubes
		l.Direct, l.Spread = d.Between(0, 0.35), d.Between(0.2, 0.45)
	}
	elevation := math.Asin(d.Between(0.5, 0.995))
	azimuth := d.Between(0, 2*math.Pi)
	l.Aim(num.Heading(azimuth, elevation))
	l.SetSky(d.Between(0, 0.9), d.Between(0, 2*math.Pi), d.Between(0.3, 1.2))
	if d.Chance(0.5) {
		run := math.Log(d.Scaled(1, 1.5)) / num.Across
		turn := d.Between(0, 2*math.Pi)
		l.slope = [2]float64{run * math.Cos(turn), run * math.Sin(turn)}
	}
	if d.Chance(0.15) {
		l.shades = drawShades(d)
	}
	return l
}

// Aim puts the lamp in a direction.
func (l *Lamp) Aim(to num.Vec) { l.To, l.half = to, to.Plus(num.At(0, 0, 1)).Unit() }

// SetSky spreads the sky's light: one side brighter than the other by lopsided, and the top brighter than the rim by top.
func (l *Lamp) SetSky(lopsided, azimuth, top float64) {
	bright := num.Heading(azimuth, 30*num.Degree)
	sum := 0.0
	for i := range l.Sky {
		to := num.At(0, 0, 1)
		solid := 1.0
		switch {
		case i > 4:
			to = num.Heading(2*math.Pi*(float64(i)-0.3)/8, 27*num.Degree)
		case i > 0:
			to = num.Heading(2*math.Pi*float64(i)/4, 58*num.Degree)
			solid = 1.2
		}
		share := solid * to.Z * (1 + top*to.Z) * (1 + lopsided*to.Dot(bright))
		l.Sky[i] = Ray{to, share}
		sum += share
	}
	for i := range l.Sky {
		l.Sky[i].share /= sum
	}
}

func drawShades(d num.Dice) []shade {
	angle, dark := d.Between(0, math.Pi), d.Between(0.2, 0.8)
	soft := d.Scaled(0.4, 25)
	s := shade{x: d.Between(0, num.Across), y: d.Between(0, num.Across), sin: math.Sin(angle), cos: math.Cos(angle),
		wide: d.Scaled(6, 70), soft: soft, dark: dark,
		phased: d.Between(0, 99)}
	if d.Chance(0.5) {
		s.bent = d.Between(0, 15)
	}
	shades := []shade{s}
	if d.Chance(0.4) { // the bars of a house
		gap := d.Between(25, 90)
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

// Field is what is left of all light at a place, after what lies outside the scene.
func (l *Lamp) Field(x, y float64) float64 {
	if len(l.shades) == 0 && l.slope == [2]float64{} {
		return 1
	}
	k := 1 + l.slope[0]*(x-num.Across/2) + l.slope[1]*(y-num.Across/2)
	for i := range l.shades {
		s := &l.shades[i]
		along, off := (x-s.x)*s.cos+(y-s.y)*s.sin, (y-s.y)*s.cos-(x-s.x)*s.sin
		if s.bent > 0 {
			off += s.bent * num.Tiles().Cloud.At(s.phased+along*0.25, s.phased+off*0.1)
		}
		k *= 1 - s.dark*num.Ramp(s.wide+s.soft/2, s.wide-s.soft/2, math.Abs(off))
	}
	return k
}
