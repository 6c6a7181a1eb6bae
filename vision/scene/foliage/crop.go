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
	c := crop{turn: golden, leaves: d.between(0.7, 1.4), seedSize: d.between(0.25, 0.5), young: d.between(45, 80) * degree, old: d.between(-5, 30) * degree,
		hinge: d.between(-5, 40) * degree, droop: d.between(-0.1, 1), late: d.between(0, 1.5), aside: d.between(0, 0.35), twist: d.between(0, 0.4),
		wobble: d.between(0, 0.4), fold: d.between(0, 0.35), foldYoung: d.between(0.3, 1.1), curl: d.near(0, 0.5), stalkWide: d.between(0.03, 0.07),
		foot: d.between(0.1, 0.5), stem: d.between(0.02, 0.3), lean: d.between(0, 0.25)}
	c.seedLeaf, c.blister, c.blobs = drawSeedLeaf(d), d.between(0, 0.05), d.between(0.4, 1)
	c.veins = veins{sides: math.Round(d.between(4, 11)), curve: d.between(0.1, 1.4), pillow: d.scaled(0.03, 0.4), groove: d.between(-0.35, 0.5)}
	if d.chance(0.12) {
		c.turn = math.Pi + d.near(0, 0.08) // two rows
	}
	weights := []float64{16, 14, 12, 8, 4, 6, 3, 4, 4, 3, 1, 1, 1, 8}
	if !leafy {
		weights = []float64{6, 5, 6, 7, 9, 9, 9, 6, 6, 10, 6, 6, 6, 4}
	}
	c.shape(d, d.pick(weights...))
	return c
}

// shape gives the crop one of the forms that trays of young plants show.
func (c *crop) shape(d dice, form int) {
	switch form {
	case 0: // smooth spoons and ovals
		c.outline = outline{wide: d.between(0.22, 0.42), base: d.between(0.5, 1.6), tip: d.between(0.45, 0.8), lean: d.between(0.4, 1)}
		c.stalk, c.stalkWide = d.between(0.2, 0.5), d.between(0.04, 0.11)
	case 1: // rosettes with wavy or frilled edges
		c.outline = outline{wide: d.between(0.26, 0.48), base: d.between(0.5, 1.4), tip: d.between(0.35, 0.55), lean: d.between(0.6, 1.2)}
		c.stalk, c.stalkWide, c.stem, c.leaves = d.between(0.02, 0.15), d.between(0.05, 0.12), d.between(0, 0.06), c.leaves*1.3
		c.waves, c.swing, c.blister, c.blobs = d.between(3, 12), d.between(0.04, 0.28), d.between(0, 0.1), d.between(0.25, 0.6)
		c.frill(d)
	case 2: // lobed at the foot, toothed or wavy
		c.outline = outline{wide: d.between(0.24, 0.4), base: d.between(0.6, 1.4), tip: d.between(0.4, 0.7), lean: d.between(0.3, 0.9),
			lobes: d.whole(3, 6), cut: d.between(0.1, 0.85), fewer: d.between(0.3, 1), uneven: d.between(0.2, 1)}
		c.stalk, c.stalkWide = d.between(0.2, 0.5), d.between(0.04, 0.08)
		c.waves, c.swing = d.between(2, 6), d.between(0, 0.14)
		c.frill(d)
	case 3: // round and heart-shaped
		c.outline = outline{wide: d.between(0.42, 0.62), base: 0.5, tip: d.between(0.48, 0.85), back: d.between(0, 0.22), lean: d.between(0.8, 1.6)}
		c.stalk, c.stalkWide, c.hinge = d.between(0.4, 0.68), d.between(0.025, 0.05), d.between(10, 60)*degree
		c.curl = d.near(0.1, 0.5)
	case 4: // lances on a stem
		c.outline = outline{wide: d.between(0.1, 0.24), base: d.between(0.7, 1.2), tip: d.between(0.8, 1.5), lean: d.between(0.5, 1.3)}
		c.stalk, c.stem = d.between(0.05, 0.35), d.between(0.2, 0.8)
		c.pairs = d.chance(0.4)
	case 5: // toothed ovals, often in pairs
		c.outline = outline{wide: d.between(0.28, 0.46), base: d.between(0.45, 0.8), tip: d.between(0.6, 1.2), lean: d.between(0.5, 1), back: d.between(0, 0.08)}
		c.stalk, c.stem = d.between(0.1, 0.4), d.between(0.1, 0.7)
		c.pairs, c.blister, c.blobs = d.chance(0.6), d.between(0, 0.07), d.between(0.2, 0.4)
		c.outline.teeth, c.outline.bite, c.outline.saw = d.whole(6, 22), d.between(0.04, 0.14), d.between(0, 1)
		c.veins.pillow = d.between(0.1, 0.5)
	case 6: // leaflets along a stalk
		c.habit, c.leaflets, c.first, c.leaves = compound, d.whole(2, 6), d.between(0.25, 0.45), c.leaves*0.7
		c.outline = outline{wide: d.between(0.2, 0.45), base: d.between(0.5, 0.8), tip: d.between(0.6, 1.2), lean: d.between(0.5, 1),
			lobes: d.whole(2, 4), cut: d.between(0, 0.5), uneven: d.between(0.3, 1)}
		c.stem, c.stalkWide = d.between(0.1, 0.6), d.between(0.015, 0.03)
		c.frill(d)
	case 7: // three leaflets
		c.habit, c.leaflets, c.first, c.leaves = compound, 1, d.between(0.5, 0.72), c.leaves*0.8
		c.outline = outline{wide: d.between(0.25, 0.5), base: d.between(0.5, 1.2), tip: d.between(0.45, 1), lean: d.between(0.4, 1)}
		c.stalkWide = d.between(0.015, 0.03)
		c.frill(d)
	case 8: // lobes spread like fingers
		c.outline = outline{wide: d.between(0.42, 0.6), base: 0.5, tip: d.between(0.5, 0.9), back: d.between(0.05, 0.22), lean: d.between(1.3, 2.2),
			lobes: d.whole(2, 4), cut: d.between(0.25, 0.75), fewer: d.between(0, 0.4), uneven: d.between(0, 0.5)}
		c.stalk, c.stalkWide = d.between(0.4, 0.6), d.between(0.025, 0.05)
		c.frill(d)
	case 9: // grasses
		c.habit, c.wide, c.leaves = strap, d.scaled(1, 8), c.leaves*0.8
		c.young, c.old, c.droop, c.late = d.between(70, 88)*degree, d.between(25, 65)*degree, d.between(0.2, 1.9), d.between(0.3, 2.5)
		c.outline = outline{base: d.between(0.05, 0.25), tip: d.between(0.5, 1), lean: 3}
		c.turn, c.twist, c.fold = math.Pi+d.near(0, 0.2), d.between(0.2, 2.2), d.between(0.05, 0.5)
		c.veins = veins{parallel: d.between(0.5, 1.1), pillow: d.between(0, 0.12)}
	case 10: // round leaves
		c.habit, c.wide, c.leaves = thread, d.scaled(0.7, 4), c.leaves*0.5
		c.young, c.old, c.droop, c.late = d.between(75, 89)*degree, d.between(40, 75)*degree, d.between(0, 1.6), d.between(0.5, 3)
		c.turn = math.Pi + d.near(0, 0.3)
	case 11: // feathers
		c.habit, c.leaflets, c.first, c.wide = feather, d.whole(4, 7), d.between(0.3, 0.5), d.between(0.35, 0.8)
		c.leaves, c.stalkWide = c.leaves*0.6, d.between(0.015, 0.025)
	case 12: // thick leaves
		c.outline = outline{wide: d.between(0.2, 0.45), base: d.between(0.4, 1.2), tip: d.between(0.35, 0.7), lean: 0.8}
		c.stalk, c.curl, c.stem, c.leaves = d.between(0, 0.1), d.between(-1.3, -0.7), d.between(0, 0.4), c.leaves*1.6
		c.veins, c.droop, c.blister = veins{}, d.between(-0.6, 0.3), 0
		c.pairs = d.chance(0.3)
	default: // cups and heads
		c.outline = outline{wide: d.between(0.4, 0.58), base: d.between(0.5, 0.9), tip: d.between(0.4, 0.5), lean: d.between(0.7, 1.2)}
		c.stalk, c.curl, c.droop, c.young = d.between(0.08, 0.35), d.between(0.4, 1.3), d.between(-0.7, 0.2), d.between(60, 88)*degree
		c.waves, c.swing, c.blister, c.blobs = d.between(2, 5), d.between(0, 0.1), d.between(0, 0.08), d.between(0.2, 0.5)
		c.stem = d.between(0.02, 0.15)
	}
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
