package canvas

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Veil is how the light differs over the drawing: the lamp's gradient, and shadows of what stands outside it.
type Veil struct {
	slope  num.Point // change for each texel
	casts  []cast
	middle float64 // texels
}

// cast is one shadow: a side of a line, a bar, or a blot.
type cast struct {
	at         num.Point
	along      num.Point
	half       float64 // texels to both sides of the line; endless for one whole side
	wave, high float64 // how the edge wanders, in texels
	phase      float64
	soft       float64 // texels
	dark       float64
	every      float64 // texels from bar to bar, 0 for one alone
}

// VeilOf draws the gradient and, for some drawings, shadows.
func VeilOf(d num.Dice, side int) Veil {
	s := float64(side)
	k := Veil{middle: s / 2}
	if d.Chance(0.6) {
		k.slope = num.Heading(d.Angle()).Times(d.Between(0, 0.2) * 2 / s)
	}
	if !d.Chance(0.15) {
		return k
	}
	for range 1 + d.IntN(3) {
		c := cast{
			at: num.At(d.Between(0.1, 0.9)*s, d.Between(0.1, 0.9)*s), along: num.Heading(d.Angle()), half: d.Wide(0.02, 0.3) * s,
			wave: d.Wide(0.05, 0.5) * s, high: d.Some(0.6, 0, 0.05) * s, phase: d.Angle(), soft: d.Wide(0.7, 90), dark: d.Between(0.15, 0.8),
		}
		switch d.Pick(0.4, 0.4, 0.2) {
		case 0:
			c.half = 10 * s
			c.at = c.at.Plus(c.along.Left().Times(10 * s))
		case 1:
			c.every = d.Some(0.4, 3, 8) * c.half
		}
		k.casts = append(k.casts, c)
	}
	return k
}

// at is how much of the light is left at a place in texels.
func (k *Veil) at(p num.Point) float64 {
	v := 1 + k.slope.Dot(p.Minus(num.At(k.middle, k.middle)))
	for i := range k.casts {
		v *= 1 - k.casts[i].dims(p)
	}
	return v
}

// dims is the share of the light that the shadow takes at a place.
func (c *cast) dims(p num.Point) float64 {
	q := p.Minus(c.at)
	off := q.Dot(c.along.Left()) + c.high*math.Sin(q.Dot(c.along)/c.wave+c.phase)
	if c.every > 0 {
		off = math.Remainder(off, c.every)
	}
	return c.dark * num.Ease(-c.soft, c.soft, c.half-math.Abs(off))
}
