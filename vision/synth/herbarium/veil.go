package herbarium

import "math"

// veil is how the light differs over the drawing: the lamp's gradient, and shadows of what stands outside it.
type veil struct {
	slope  point // change for each texel
	casts  []cast
	middle float64 // texels
}

// cast is one shadow: a side of a line, a bar, or a blot.
type cast struct {
	at         point
	along      point
	half       float64 // texels to both sides of the line; endless for one whole side
	wave, high float64 // how the edge wanders, in texels
	phase      float64
	soft       float64 // texels
	dark       float64
	every      float64 // texels from bar to bar, 0 for one alone
}

func veilOf(d dice, side int) veil {
	s := float64(side)
	k := veil{middle: s / 2}
	if d.chance(0.6) {
		k.slope = heading(d.angle()).times(d.between(0, 0.2) * 2 / s)
	}
	if !d.chance(0.15) {
		return k
	}
	for range 1 + d.IntN(3) {
		c := cast{
			at: point{d.between(0.1, 0.9) * s, d.between(0.1, 0.9) * s}, along: heading(d.angle()), half: d.wide(0.02, 0.3) * s,
			wave: d.wide(0.05, 0.5) * s, high: d.some(0.6, 0, 0.05) * s, phase: d.angle(), soft: d.wide(0.7, 90), dark: d.between(0.15, 0.8),
		}
		switch d.pick(0.4, 0.4, 0.2) {
		case 0:
			c.half = 10 * s
			c.at = c.at.plus(c.along.left().times(10 * s))
		case 1:
			c.every = d.some(0.4, 3, 8) * c.half
		}
		k.casts = append(k.casts, c)
	}
	return k
}

// at is how much of the light is left at a place in texels.
func (k *veil) at(p point) float64 {
	v := 1 + k.slope.dot(p.minus(point{k.middle, k.middle}))
	for i := range k.casts {
		v *= 1 - k.casts[i].dims(p)
	}
	return v
}

// dims is the share of the light that the shadow takes at a place.
func (c *cast) dims(p point) float64 {
	q := p.minus(c.at)
	off := q.dot(c.along.left()) + c.high*math.Sin(q.dot(c.along)/c.wave+c.phase)
	if c.every > 0 {
		off = math.Remainder(off, c.every)
	}
	return c.dark * ease(-c.soft, c.soft, c.half-math.Abs(off))
}
