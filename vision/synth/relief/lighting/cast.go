package lighting

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Cast is shade on the whole drawing from things outside of it, and the lamp's own falling off.
type Cast struct {
	gradient num.RGB
	shapes   []shape
}

// shape is a shadow: half the plane, a bar or a blot.
type shape struct {
	x, y, alongX, alongY float32
	half                 float32 // mm, half a bar's width or a blot's radius
	kind                 int     // 0 half plane, 1 bar, 2 blot
	edge                 float32 // mm over which it fades
	dark                 float32 // share of light that it takes
}

// NewCast draws shadows from outside, in one of seven drawings.
func NewCast(d num.Dice, gradient num.RGB) Cast {
	c := Cast{gradient: gradient}
	if d.Chance(0.15) {
		for range d.Count(1, 3) {
			s := shape{x: d.Between(0, solids.Width), y: d.Between(0, solids.Width), half: d.Scaled(1, 15), kind: d.IntN(3), edge: d.Scaled(0.1, 6),
				dark: d.Between(0.15, 0.7)}
			s.alongX, s.alongY = d.Facing()
			c.shapes = append(c.shapes, s)
		}
	}
	return c
}

// At is the share of the light that is left at a place.
func (c *Cast) At(x, y float32) float32 {
	light := 1 + num.Dot(x-solids.Width/2, y-solids.Width/2, c.gradient.R, c.gradient.G)
	for i := range c.shapes {
		s := &c.shapes[i]
		dx, dy := x-s.x, y-s.y
		in := float32(dx*s.alongY) - float32(dy*s.alongX)
		switch s.kind {
		case 1:
			in = s.half - num.Abs(in)
		case 2:
			in = s.half - num.Length(dx, dy)
		}
		light *= 1 - float32(s.dark*num.Smooth(-s.edge/2, s.edge/2, in))
	}
	return light
}
