// Package lighting is the light on a drawing: one lamp and the sky, the shadows that heights cast, how much sky a hollow sees, and shade
// from outside. In go heights in mm and a place's own colour and normal; out comes the light that it sends back, with paper at 1. It does
// not know what is lit: medium, roots and tray are heights to it.
package lighting

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Lamp is the one lamp of a drawing and the sky around it. Together they light paper in the plug's plane with 1.
type Lamp struct {
	x, y, z  float32 // unit vector toward the lamp
	halfX    float32 // unit vector halfway between the lamp and the eye, which is far above
	halfY    float32
	halfZ    float32
	direct   num.RGB // light from the lamp on paper in the plane
	sky      num.RGB // light from everywhere else
	soft     float32 // the lamp's own half width, as a slope: 0.01 for the sun, 0.5 for a window
	sharp    int     // the largest polish that shows: a mirror's spot is no smaller than the lamp
	hollow   float32 // how strongly hollows darken
	Gradient num.RGB // change of light per mm to the right (r) and downward (g)
}

// NewLamp draws a lamp: sun or flash, lamps and windows, or a dull sky.
func NewLamp(d num.Dice) Lamp {
	var l Lamp
	l.aim(d)
	share, soft := l.kind(d)
	l.soft = soft
	l.sharp = max(3, int(num.Log2(8/float32(soft*soft))+0.5)) // of a spot whose half width is half the lamp's
	l.sharp = min(l.sharp, len(spotEdge)-1)
	warm := float32(0.05 * d.Float32()) // the lamp is a little warmer than the sky
	warm = float32(warm * (1 - share))
	l.direct = num.RGB{R: 1 + warm, G: 1, B: 1 - warm}.Times(share)
	l.sky = num.RGB{R: 1 - l.direct.R, G: 1 - l.direct.G, B: 1 - l.direct.B}
	l.hollow = d.Scaled(0.5, 1.4)
	if d.Chance(0.5) {
		x, y := d.Facing()
		slope := d.Between(0, 0.18) / solids.Width // up to 1.3 : 1 from corner to corner
		l.Gradient = num.RGB{R: x * slope, G: y * slope, B: 0}
	}
	return l
}

// aim sets the lamp's direction: mostly from rather high up.
func (l *Lamp) aim(d num.Dice) {
	high := d.Between(25, 85)
	if d.Chance(0.6) {
		high = d.Between(45, 80)
	}
	sin, cos := num.SinCos(high / 360)
	x, y := d.Facing()
	l.x, l.y, l.z = x*cos, y*cos, sin
	n := num.Sqrt(num.Dot3(l.x, l.y, l.z+1, l.x, l.y, l.z+1))
	l.halfX, l.halfY, l.halfZ = l.x/n, l.y/n, (l.z+1)/n
}

// kind returns the lamp's share of the light and its softness.
func (l *Lamp) kind(d num.Dice) (share, soft float32) {
	switch d.Pick(0.25, 0.4, 0.35) {
	case 0: // sun or flash
		return d.Between(0.65, 0.92), d.Between(0.01, 0.06)
	case 1: // lamps and windows
		return d.Between(0.4, 0.75), d.Between(0.1, 0.4)
	}
	return d.Between(0.08, 0.4), d.Between(0.3, 0.7) // dull sky
}

// Slope is a surface's unit normal.
type Slope struct{ X, Y, Z float32 }

// Normal is the unit normal of a surface that rises by zx and zy mm per mm.
func Normal(zx, zy float32) Slope {
	n := 1 / num.Sqrt(1+num.Dot(zx, zy, zx, zy))
	return Slope{-zx * n, -zy * n, n}
}

// Matt is the light that a matt surface of the given normal sends back: lamp, as far as it is not in shadow, and sky, as far as it
// sees that from a hollow so deep. Of the sky's light in a hollow that sees the share open = 1/(1 + deep) of it, walls of a pale own
// colour send the rest to and fro: open/(1 - (1 - open)·own) = 1/(1 + deep·(1 - own)).
func (l *Lamp) Matt(own num.RGB, n Slope, wrap, sun, deep float32) num.RGB {
	facing := float32(max(0, num.Dot3(n.X, n.Y, n.Z, l.x, l.y, l.z)+wrap) / (l.z + wrap) * sun)
	above := float32((0.5 + float32(0.5*n.Z)) / (1 + float32(deep*(1-min(own.G, 0.9)))))
	return num.RGB{
		R: own.R * (float32(l.direct.R*facing) + float32(l.sky.R*above)),
		G: own.G * (float32(l.direct.G*facing) + float32(l.sky.G*above)),
		B: own.B * (float32(l.direct.B*facing) + float32(l.sky.B*above)),
	}
}

// Mirror is the light of the lamp and of the sky mirrored by a glossy surface (Blinn, "Models of light reflection for computer
// synthesized pictures", 1977, scaled so that a polished surface is brighter in a smaller spot). The sky is brighter above and on the
// lamp's side than at the horizon.
func (l *Lamp) Mirror(n Slope, gloss float32, polish int, sun, deep float32) float32 {
	grazing := 1 - n.Z
	up, toward := float32(2*n.Z*n.Z)-1, float32(2*n.Z*num.Dot(n.X, n.Y, l.x, l.y))
	bright := max(0.1, 0.35+float32(0.65*up)+float32(0.9*toward))
	light := float32((gloss + float32(0.4*grazing*grazing*grazing*min(1, gloss*20))) * bright * l.sky.G / (1 + deep))
	c := num.Dot3(n.X, n.Y, n.Z, l.halfX, l.halfY, l.halfZ)
	polish = min(polish, l.sharp)
	if c < spotEdge[polish] {
		return light
	}
	for range polish {
		c *= c
	}
	peak := (float32(int(1)<<polish) + 8) / 4
	return light + min(4, float32(gloss*peak*c*sun*l.direct.G/l.z))
}

// spotEdge is, for each polish, the cosine below which the lamp's spot has faded to 0.0001.
var spotEdge = func() (edge [11]float32) {
	for i := range edge {
		edge[i] = num.Exp2(num.Log2(1e-4) / float32(int(1)<<i))
	}
	return edge
}()
