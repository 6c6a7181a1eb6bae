package plants

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/skin"
)

// habit is how a crop carries its leaves.
type habit int

const (
	broad    habit = iota // one blade on a stalk
	compound              // leaflets along a stalk
	strap                 // grass-like
	thread                // round leaves like an onion's
	feather               // cut into threads
)

// crop is the shape of one sort of plant; each plant and leaf departs from it a little. Lengths without a unit are shares of the
// whole leaf's length, angles are radians.
type crop struct {
	habit    habit
	outline  shape.Outline
	seedLeaf shape.Outline
	seedSize float64 // length of a seed leaf, of a grown leaf
	leaflets int     // pairs
	first    float64 // where the first pair sits on the stalk
	turn     float64 // from one leaf to the next round the stem
	pairs    bool    // leaves stand in pairs
	leaves   float64 // how many, of what is usual for a stage

	stalk       float64 // length
	stalkWide   float64 // width, of the leaf's length
	young, old  float64 // elevation of the youngest and the oldest leaf
	hinge       float64 // how far the blade bends down from its stalk
	droop, late float64
	aside       float64 // scatter of bending to the side
	twist       float64 // scatter of twisting
	wobble      float64

	fold, foldYoung float64
	curl            float64 // radians, see Blade
	waves, swing    float64
	blister, blobs  float64    // height and size of blisters, of the blade's half-width
	foot            float64    // height of the seed leaves, of the plant's reach
	stem            float64    // height of the shoot above them, of the plant's reach
	lean            float64    // scatter of the stem's lean
	wide            float64    // width of a strap, mm
	veins           skin.Veins // counts; widths follow from each leaf
}

const golden = 137.508 * num.Degree // the angle between leaves that follow each other on most spiral shoots

// drawCrop draws a sort. Leafy ones are vegetables grown for their leaves.
func drawCrop(d num.Dice, leafy bool) crop {
	c := crop{
		turn: golden, leaves: d.Between(0.7, 1.4), seedSize: d.Between(0.25, 0.5), stalkWide: d.Between(0.03, 0.07),
		young: d.Between(45, 80) * num.Degree, old: d.Between(-5, 30) * num.Degree, hinge: d.Between(-5, 40) * num.Degree,
		droop: d.Between(-0.1, 1), late: d.Between(0, 1.5), aside: d.Between(0, 0.35), twist: d.Between(0, 0.4), wobble: d.Between(0, 0.4),
		fold: d.Between(0, 0.35), foldYoung: d.Between(0.3, 1.1), curl: d.Near(0, 0.5),
		foot: d.Between(0.1, 0.5), stem: d.Between(0.02, 0.3), lean: d.Between(0, 0.25),
	}
	c.seedLeaf, c.blister, c.blobs = drawSeedLeaf(d), d.Between(0, 0.05), d.Between(0.4, 1)
	c.veins = skin.Veins{Sides: math.Round(d.Between(4, 11)), Curve: d.Between(0.1, 1.4), Pillow: d.Scaled(0.03, 0.4),
		Groove: d.Between(-0.35, 0.5)}
	if d.Chance(0.12) {
		c.turn = math.Pi + d.Near(0, 0.08) // two rows
	}
	var weights []float64
	for _, f := range forms {
		weights = append(weights, f.weight(leafy))
	}
	forms[d.Pick(weights...)].shape(&c, d)
	return c
}

// frill gives some outlines teeth, from fine to coarse.
func (c *crop) frill(d num.Dice) {
	if d.Chance(0.45) {
		c.outline.Teeth, c.outline.Bite, c.outline.Saw = d.Whole(6, 26), d.Between(0.03, 0.16), d.Between(0, 1)
		c.outline.Uneven = max(c.outline.Uneven, d.Between(0, 1))
	}
}

// drawSeedLeaf draws a seed leaf: round, notched, oval or narrow.
func drawSeedLeaf(d num.Dice) shape.Outline {
	switch d.Pick(0.3, 0.3, 0.25, 0.15) {
	case 0:
		return shape.Outline{Wide: d.Between(0.35, 0.5), Base: d.Between(0.5, 0.8), Tip: 0.5, Lean: 0.7}
	case 1:
		return shape.Outline{Wide: d.Between(0.5, 0.72), Base: d.Between(0.5, 0.8), Tip: 0.5, Notch: d.Between(0.05, 0.16), Lean: 0.8}
	case 2:
		return shape.Outline{Wide: d.Between(0.2, 0.35), Base: d.Between(0.5, 0.9), Tip: d.Between(0.5, 0.8), Lean: 0.7}
	}
	return shape.Outline{Wide: d.Between(0.07, 0.16), Base: 0.6, Tip: 0.6, Lean: 1}
}
