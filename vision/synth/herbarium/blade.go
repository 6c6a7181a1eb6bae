package herbarium

import "math"

// blade is a leaf's blade laid flat, in mm: x along the midrib from where the stalk joins, y across, left positive.
type blade struct {
	rings []ring // the outline, and the holes in it
	long  float64
	half  [bladeBins]float64 // half the width along the midrib
	veins veins
}

const bladeBins = 24

// bladeOf returns the blade within an outline.
func bladeOf(outline ring, v veins) *blade {
	b := &blade{rings: []ring{outline.facing(false)}, veins: v}
	_, hi := outline.bounds()
	b.long = hi.x
	b.measure()
	return b
}

// measure fills in half the width along the midrib.
func (b *blade) measure() {
	outline := b.rings[0]
	before := outline[len(outline)-1]
	for _, p := range outline {
		steps := 1 + int(math.Abs(p.x-before.x)/b.long*bladeBins)
		for k := range steps {
			q := before.toward(p, float64(k)/float64(steps))
			i := int(clamp(q.x/b.long*bladeBins, 0, bladeBins-1))
			b.half[i] = max(b.half[i], math.Abs(q.y))
		}
		before = p
	}
	for i := range b.half {
		b.half[i] = max(b.half[i], 0.15)
	}
}

// halfAt returns half the blade's width s mm from its base.
func (b *blade) halfAt(s float64) float64 {
	at := clamp(s/b.long*bladeBins-0.5, 0, bladeBins-1.001)
	i := int(at)
	return mix(b.half[i], b.half[i+1], at-float64(i))
}

// bite cuts a hole, which may reach over the edge.
func (b *blade) bite(d dice, middle point, radius float64) {
	knots := [5]float64{}
	for i := range knots {
		knots[i] = d.between(0, 2*math.Pi)
	}
	b.rings = append(b.rings, rounded(middle, 28, func(a float64) float64 {
		return radius * (1 + 0.22*math.Sin(2*a+knots[0]) + 0.13*math.Sin(3*a+knots[1]) + 0.07*math.Sin(5*a+knots[2]))
	}).facing(true))
}

// eaten bites holes and pieces of the edge out of a blade.
func (b *blade) eaten(d dice, bites int) {
	outline := b.rings[0]
	for range bites {
		p := outline[d.IntN(len(outline))]
		p = p.toward(point{p.x * d.between(0.8, 1), 0}, d.between(0, 0.9))
		b.bite(d, p, d.wide(0.4, max(0.5, 0.12*b.long)))
	}
}
