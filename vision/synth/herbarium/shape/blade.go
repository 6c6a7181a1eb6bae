// Package shape is the forms of blades laid flat, with their veins, and the courses by which sheets lie in space: a spine tells where a spot
// of a sheet is drawn, and finds the spot again. In go lengths in mm and chance; out come outlines and places. It knows nothing of crops,
// colours and light.
package shape

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Blade is a leaf's blade laid flat, in mm: x along the midrib from where the stalk joins, y across, left positive.
type Blade struct {
	Rings []num.Ring // the outline, and the holes in it
	Long  float64
	half  [bladeBins]float64 // half the width along the midrib
	Veins Veins
}

const bladeBins = 24

// BladeOf returns the blade within an outline.
func BladeOf(outline num.Ring, v Veins) *Blade {
	b := &Blade{Rings: []num.Ring{outline.Facing(false)}, Veins: v}
	_, hi := outline.Bounds()
	b.Long = hi.X
	b.Measure()
	return b
}

// Measure fills in half the width along the midrib.
func (b *Blade) Measure() {
	outline := b.Rings[0]
	before := outline[len(outline)-1]
	for _, p := range outline {
		steps := 1 + int(math.Abs(p.X-before.X)/b.Long*bladeBins)
		for k := range steps {
			q := before.Toward(p, float64(k)/float64(steps))
			i := int(num.Clamp(q.X/b.Long*bladeBins, 0, bladeBins-1))
			b.half[i] = max(b.half[i], math.Abs(q.Y))
		}
		before = p
	}
	for i := range b.half {
		b.half[i] = max(b.half[i], 0.15)
	}
}

// HalfAt returns half the blade's width s mm from its base.
func (b *Blade) HalfAt(s float64) float64 {
	at := num.Clamp(s/b.Long*bladeBins-0.5, 0, bladeBins-1.001)
	i := int(at)
	return num.Mix(b.half[i], b.half[i+1], at-float64(i))
}

// bite cuts a hole, which may reach over the edge.
func (b *Blade) bite(d num.Dice, middle num.Point, radius float64) {
	knots := [5]float64{}
	for i := range knots {
		knots[i] = d.Between(0, 2*math.Pi)
	}
	b.Rings = append(b.Rings, num.Rounded(middle, 28, func(a float64) float64 {
		return radius * (1 + 0.22*math.Sin(2*a+knots[0]) + 0.13*math.Sin(3*a+knots[1]) + 0.07*math.Sin(5*a+knots[2]))
	}).Facing(true))
}

// Eaten bites holes and pieces of the edge out of a blade.
func (b *Blade) Eaten(d num.Dice, bites int) {
	outline := b.Rings[0]
	for range bites {
		p := outline[d.IntN(len(outline))]
		p = p.Toward(num.At(p.X*d.Between(0.8, 1), 0), d.Between(0, 0.9))
		b.bite(d, p, d.Wide(0.4, max(0.5, 0.12*b.Long)))
	}
}
