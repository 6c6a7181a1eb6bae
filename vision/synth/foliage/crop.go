package foliage

import "math"

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
	outline  outline
	seedLeaf outline
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
	curl            float64 // radians, see blade
	waves, swing    float64
	blister, blobs  float64 // height and size of blisters, of the blade's half-width
	foot            float64 // height of the seed leaves, of the plant's reach
	stem            float64 // height of the shoot above them, of the plant's reach
	lean            float64 // scatter of the stem's lean
	wide            float64 // width of a strap, mm
	veins           veins   // counts; widths are filled in leaf by leaf
}

const golden = 137.508 * degree // the angle between leaves that follow each other on most spiral shoots

// drawCrop draws a sort. Leafy ones are vegetables grown for their leaves.
func drawCrop(d dice, leafy bool) crop {
	c := crop{
		turn: golden, leaves: d.between(0.7, 1.4), seedSize: d.between(0.25, 0.5), stalkWide: d.between(0.03, 0.07),
		young: d.between(45, 80) * degree, old: d.between(-5, 30) * degree, hinge: d.between(-5, 40) * degree,
		droop: d.between(-0.1, 1), late: d.between(0, 1.5), aside: d.between(0, 0.35), twist: d.between(0, 0.4), wobble: d.between(0, 0.4),
		fold: d.between(0, 0.35), foldYoung: d.between(0.3, 1.1), curl: d.near(0, 0.5),
		foot: d.between(0.1, 0.5), stem: d.between(0.02, 0.3), lean: d.between(0, 0.25),
	}
	c.seedLeaf, c.blister, c.blobs = drawSeedLeaf(d), d.between(0, 0.05), d.between(0.4, 1)
	c.veins = veins{sides: math.Round(d.between(4, 11)), curve: d.between(0.1, 1.4), pillow: d.scaled(0.03, 0.4),
		groove: d.between(-0.35, 0.5)}
	if d.chance(0.12) {
		c.turn = math.Pi + d.near(0, 0.08) // two rows
	}
	var weights []float64
	for _, f := range forms {
		weights = append(weights, f.weight(leafy))
	}
	forms[d.pick(weights...)].shape(&c, d)
	return c
}

// frill gives some outlines teeth, from fine to coarse.
func (c *crop) frill(d dice) {
	if d.chance(0.45) {
		c.outline.teeth, c.outline.bite, c.outline.saw = d.whole(6, 26), d.between(0.03, 0.16), d.between(0, 1)
		c.outline.uneven = max(c.outline.uneven, d.between(0, 1))
	}
}

// drawSeedLeaf draws a seed leaf: round, notched, oval or narrow.
func drawSeedLeaf(d dice) outline {
	switch d.pick(0.3, 0.3, 0.25, 0.15) {
	case 0:
		return outline{wide: d.between(0.35, 0.5), base: d.between(0.5, 0.8), tip: 0.5, lean: 0.7}
	case 1:
		return outline{wide: d.between(0.5, 0.72), base: d.between(0.5, 0.8), tip: 0.5, notch: d.between(0.05, 0.16), lean: 0.8}
	case 2:
		return outline{wide: d.between(0.2, 0.35), base: d.between(0.5, 0.9), tip: d.between(0.5, 0.8), lean: 0.7}
	}
	return outline{wide: d.between(0.07, 0.16), base: 0.6, tip: 0.6, lean: 1}
}
