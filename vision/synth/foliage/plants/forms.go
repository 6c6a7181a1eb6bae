package plants

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/skin"
)

// form is a shape that young plants in trays have.
type form struct {
	leafy, other float64 // how often, among vegetables grown for their leaves and among all else
	shape        func(c *crop, d num.Dice)
}

func (f form) weight(leafy bool) float64 {
	if leafy {
		return f.leafy
	}
	return f.other
}

var forms = [...]form{
	{16, 6, spoons},
	{14, 5, rosettes},
	{12, 6, lyres},
	{8, 7, hearts},
	{4, 9, lances},
	{6, 9, toothed},
	{3, 9, leafletted},
	{4, 6, threefold},
	{4, 6, fingered},
	{11, 20, grasses},
	{1, 6, onions},
	{1, 6, feathers},
	{1, 6, succulents},
	{8, 4, cups},
}

// spoons have smooth leaves, shaped like spoons or ovals, on broad stalks.
func spoons(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.22, 0.42), Base: d.Between(0.5, 1.6), Tip: d.Between(0.45, 0.8),
		Lean: d.Between(0.4, 1)}
	c.stalk, c.stalkWide = d.Between(0.2, 0.5), d.Between(0.04, 0.11)
}

// rosettes sit on the medium, their leaves with wavy or frilled edges and hardly a stalk.
func rosettes(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.26, 0.48), Base: d.Between(0.5, 1.4), Tip: d.Between(0.35, 0.55),
		Lean: d.Between(0.6, 1.2)}
	c.stalk, c.stalkWide, c.stem, c.leaves = d.Between(0.02, 0.15), d.Between(0.05, 0.12), d.Between(0, 0.06), c.leaves*1.3
	c.waves, c.swing, c.blister, c.blobs = d.Between(3, 12), d.Between(0.04, 0.28), d.Between(0, 0.1), d.Between(0.25, 0.6)
	c.frill(d)
}

// lyres have leaves with lobes towards their foot, wavy and often toothed.
func lyres(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.24, 0.4), Base: d.Between(0.6, 1.4), Tip: d.Between(0.4, 0.7),
		Lean:  d.Between(0.3, 0.9),
		Lobes: d.Whole(3, 6), Cut: d.Between(0.1, 0.85), Fewer: d.Between(0.3, 1), Uneven: d.Between(0.2, 1)}
	c.stalk, c.stalkWide = d.Between(0.2, 0.5), d.Between(0.04, 0.08)
	c.waves, c.swing = d.Between(2, 6), d.Between(0, 0.14)
	c.frill(d)
}

// hearts have round or heart-shaped leaves on long stalks.
func hearts(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.42, 0.62), Base: 0.5, Tip: d.Between(0.48, 0.85), Back: d.Between(0, 0.22),
		Lean: d.Between(0.8, 1.6)}
	c.stalk, c.stalkWide, c.hinge = d.Between(0.4, 0.68), d.Between(0.025, 0.05), d.Between(10, 60)*num.Degree
	c.curl = d.Near(0.1, 0.5)
}

// lances have narrow pointed leaves along a stem.
func lances(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.1, 0.24), Base: d.Between(0.7, 1.2), Tip: d.Between(0.8, 1.5),
		Lean: d.Between(0.5, 1.3)}
	c.stalk, c.stem = d.Between(0.05, 0.35), d.Between(0.2, 0.8)
	c.pairs = d.Chance(0.4)
}

// toothed have toothed ovals with sunk veins, often in pairs.
func toothed(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.28, 0.46), Base: d.Between(0.45, 0.8), Tip: d.Between(0.6, 1.2),
		Lean: d.Between(0.5, 1), Back: d.Between(0, 0.08)}
	c.stalk, c.stem = d.Between(0.1, 0.4), d.Between(0.1, 0.7)
	c.pairs, c.blister, c.blobs = d.Chance(0.6), d.Between(0, 0.07), d.Between(0.2, 0.4)
	c.outline.Teeth, c.outline.Bite, c.outline.Saw = d.Whole(6, 22), d.Between(0.04, 0.14), d.Between(0, 1)
	c.veins.Pillow = d.Between(0.1, 0.5)
}

// leafletted have leaflets in pairs along a stalk.
func leafletted(c *crop, d num.Dice) {
	c.habit, c.leaflets, c.first, c.leaves = compound, d.Whole(2, 6), d.Between(0.25, 0.45), c.leaves*0.7
	c.outline = shape.Outline{Wide: d.Between(0.2, 0.45), Base: d.Between(0.5, 0.8), Tip: d.Between(0.6, 1.2), Lean: d.Between(0.5, 1),
		Lobes: d.Whole(2, 4), Cut: d.Between(0, 0.5), Uneven: d.Between(0.3, 1)}
	c.stem, c.stalkWide = d.Between(0.1, 0.6), d.Between(0.015, 0.03)
	c.frill(d)
}

// threefold have three leaflets on a stalk.
func threefold(c *crop, d num.Dice) {
	c.habit, c.leaflets, c.first, c.leaves = compound, 1, d.Between(0.5, 0.72), c.leaves*0.8
	c.outline = shape.Outline{Wide: d.Between(0.25, 0.5), Base: d.Between(0.5, 1.2), Tip: d.Between(0.45, 1), Lean: d.Between(0.4, 1)}
	c.stalkWide = d.Between(0.015, 0.03)
	c.frill(d)
}

// fingered have leaves with lobes spread like fingers.
func fingered(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.42, 0.6), Base: 0.5, Tip: d.Between(0.5, 0.9), Back: d.Between(0.05, 0.22),
		Lean:  d.Between(1.3, 2.2),
		Lobes: d.Whole(2, 4), Cut: d.Between(0.25, 0.75), Fewer: d.Between(0, 0.4), Uneven: d.Between(0, 0.5)}
	c.stalk, c.stalkWide = d.Between(0.4, 0.6), d.Between(0.025, 0.05)
	c.frill(d)
}

// grasses have straps that arch.
func grasses(c *crop, d num.Dice) {
	c.habit, c.wide, c.leaves = strap, d.Scaled(1, 8), c.leaves*d.Between(0.6, 1.8)
	c.young, c.old, c.droop, c.late = d.Between(70, 88)*num.Degree, d.Between(10, 70)*num.Degree, d.Between(0.2, 2.2), d.Between(0.3, 2.5)
	c.outline = shape.Outline{Base: d.Between(0.05, 0.25), Tip: d.Between(0.5, 1), Lean: 3}
	c.turn, c.twist, c.fold = math.Pi+d.Near(0, 0.2), d.Between(0.2, 2.4), d.Between(0.05, 0.6)
	if d.Chance(0.5) {
		c.turn, c.aside = golden, d.Between(0.1, 0.6) // shoots of one tuft lie every way
	}
	c.veins = skin.Veins{Parallel: d.Between(0.5, 1.1), Pillow: d.Between(0, 0.12)}
}

// onions have leaves that are round in section.
func onions(c *crop, d num.Dice) {
	c.habit, c.wide, c.leaves = thread, d.Scaled(0.7, 4), c.leaves*0.5
	c.young, c.old, c.droop, c.late = d.Between(75, 89)*num.Degree, d.Between(40, 75)*num.Degree, d.Between(0, 1.6), d.Between(0.5, 3)
	c.turn = math.Pi + d.Near(0, 0.3)
}

// feathers have leaves cut into threads, twice over.
func feathers(c *crop, d num.Dice) {
	c.habit, c.leaflets, c.first, c.wide = feather, d.Whole(4, 7), d.Between(0.3, 0.5), d.Between(0.35, 0.8)
	c.leaves, c.stalkWide = c.leaves*0.6, d.Between(0.015, 0.025)
}

// succulents have thick leaves, domed above.
func succulents(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.2, 0.45), Base: d.Between(0.4, 1.2), Tip: d.Between(0.35, 0.7), Lean: 0.8}
	c.stalk, c.curl, c.stem, c.leaves = d.Between(0, 0.1), d.Between(-1.3, -0.7), d.Between(0, 0.4), c.leaves*1.6
	c.veins, c.droop, c.blister = skin.Veins{}, d.Between(-0.6, 0.3), 0
	c.pairs = d.Chance(0.3)
}

// cups have broad leaves that bend inward and close into a head.
func cups(c *crop, d num.Dice) {
	c.outline = shape.Outline{Wide: d.Between(0.4, 0.58), Base: d.Between(0.5, 0.9), Tip: d.Between(0.4, 0.5),
		Lean: d.Between(0.7, 1.2)}
	c.stalk, c.curl, c.droop, c.young = d.Between(0.08, 0.35), d.Between(0.4, 1.3), d.Between(-0.7, 0.2), d.Between(60, 88)*num.Degree
	c.waves, c.swing, c.blister, c.blobs = d.Between(2, 5), d.Between(0, 0.1), d.Between(0, 0.08), d.Between(0.2, 0.5)
	c.stem = d.Between(0.02, 0.15)
}
