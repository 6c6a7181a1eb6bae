package relief

// cast is shade on the whole drawing from things outside of it, and the lamp's own falling off.
type cast struct {
	gradient rgb
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

func newCast(d dice, gradient rgb) cast {
	c := cast{gradient: gradient}
	if d.chance(0.15) {
		for range d.count(1, 3) {
			s := shape{x: d.between(0, width), y: d.between(0, width), half: d.scaled(1, 15), kind: d.IntN(3), edge: d.scaled(0.1, 6),
				dark: d.between(0.15, 0.7)}
			s.alongX, s.alongY = d.facing()
			c.shapes = append(c.shapes, s)
		}
	}
	return c
}

// at is the share of the light that is left at a place.
func (c *cast) at(x, y float32) float32 {
	light := 1 + dot(x-width/2, y-width/2, c.gradient.r, c.gradient.g)
	for i := range c.shapes {
		s := &c.shapes[i]
		dx, dy := x-s.x, y-s.y
		in := float32(dx*s.alongY) - float32(dy*s.alongX)
		switch s.kind {
		case 1:
			in = s.half - abs(in)
		case 2:
			in = s.half - length(dx, dy)
		}
		light *= 1 - float32(s.dark*smooth(-s.edge/2, s.edge/2, in))
	}
	return light
}
