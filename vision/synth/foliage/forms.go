package foliage

import "math"

// form is a shape that young plants in trays have.
type form struct {
	leafy, other float64 // how often, among vegetables grown for their leaves and among all else
	shape        func(c *crop, d dice)
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
func spoons(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.22, 0.42), base: d.between(0.5, 1.6), tip: d.between(0.45, 0.8),
		lean: d.between(0.4, 1)}
	c.stalk, c.stalkWide = d.between(0.2, 0.5), d.between(0.04, 0.11)
}

// rosettes sit on the medium, their leaves with wavy or frilled edges and hardly a stalk.
func rosettes(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.26, 0.48), base: d.between(0.5, 1.4), tip: d.between(0.35, 0.55),
		lean: d.between(0.6, 1.2)}
	c.stalk, c.stalkWide, c.stem, c.leaves = d.between(0.02, 0.15), d.between(0.05, 0.12), d.between(0, 0.06), c.leaves*1.3
	c.waves, c.swing, c.blister, c.blobs = d.between(3, 12), d.between(0.04, 0.28), d.between(0, 0.1), d.between(0.25, 0.6)
	c.frill(d)
}

// lyres have leaves with lobes towards their foot, wavy and often toothed.
func lyres(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.24, 0.4), base: d.between(0.6, 1.4), tip: d.between(0.4, 0.7),
		lean:  d.between(0.3, 0.9),
		lobes: d.whole(3, 6), cut: d.between(0.1, 0.85), fewer: d.between(0.3, 1), uneven: d.between(0.2, 1)}
	c.stalk, c.stalkWide = d.between(0.2, 0.5), d.between(0.04, 0.08)
	c.waves, c.swing = d.between(2, 6), d.between(0, 0.14)
	c.frill(d)
}

// hearts have round or heart-shaped leaves on long stalks.
func hearts(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.42, 0.62), base: 0.5, tip: d.between(0.48, 0.85), back: d.between(0, 0.22),
		lean: d.between(0.8, 1.6)}
	c.stalk, c.stalkWide, c.hinge = d.between(0.4, 0.68), d.between(0.025, 0.05), d.between(10, 60)*degree
	c.curl = d.near(0.1, 0.5)
}

// lances have narrow pointed leaves along a stem.
func lances(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.1, 0.24), base: d.between(0.7, 1.2), tip: d.between(0.8, 1.5),
		lean: d.between(0.5, 1.3)}
	c.stalk, c.stem = d.between(0.05, 0.35), d.between(0.2, 0.8)
	c.pairs = d.chance(0.4)
}

// toothed have toothed ovals with sunk veins, often in pairs.
func toothed(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.28, 0.46), base: d.between(0.45, 0.8), tip: d.between(0.6, 1.2),
		lean: d.between(0.5, 1), back: d.between(0, 0.08)}
	c.stalk, c.stem = d.between(0.1, 0.4), d.between(0.1, 0.7)
	c.pairs, c.blister, c.blobs = d.chance(0.6), d.between(0, 0.07), d.between(0.2, 0.4)
	c.outline.teeth, c.outline.bite, c.outline.saw = d.whole(6, 22), d.between(0.04, 0.14), d.between(0, 1)
	c.veins.pillow = d.between(0.1, 0.5)
}

// leafletted have leaflets in pairs along a stalk.
func leafletted(c *crop, d dice) {
	c.habit, c.leaflets, c.first, c.leaves = compound, d.whole(2, 6), d.between(0.25, 0.45), c.leaves*0.7
	c.outline = outline{wide: d.between(0.2, 0.45), base: d.between(0.5, 0.8), tip: d.between(0.6, 1.2), lean: d.between(0.5, 1),
		lobes: d.whole(2, 4), cut: d.between(0, 0.5), uneven: d.between(0.3, 1)}
	c.stem, c.stalkWide = d.between(0.1, 0.6), d.between(0.015, 0.03)
	c.frill(d)
}

// threefold have three leaflets on a stalk.
func threefold(c *crop, d dice) {
	c.habit, c.leaflets, c.first, c.leaves = compound, 1, d.between(0.5, 0.72), c.leaves*0.8
	c.outline = outline{wide: d.between(0.25, 0.5), base: d.between(0.5, 1.2), tip: d.between(0.45, 1), lean: d.between(0.4, 1)}
	c.stalkWide = d.between(0.015, 0.03)
	c.frill(d)
}

// fingered have leaves with lobes spread like fingers.
func fingered(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.42, 0.6), base: 0.5, tip: d.between(0.5, 0.9), back: d.between(0.05, 0.22),
		lean:  d.between(1.3, 2.2),
		lobes: d.whole(2, 4), cut: d.between(0.25, 0.75), fewer: d.between(0, 0.4), uneven: d.between(0, 0.5)}
	c.stalk, c.stalkWide = d.between(0.4, 0.6), d.between(0.025, 0.05)
	c.frill(d)
}

// grasses have straps that arch.
func grasses(c *crop, d dice) {
	c.habit, c.wide, c.leaves = strap, d.scaled(1, 8), c.leaves*d.between(0.6, 1.8)
	c.young, c.old, c.droop, c.late = d.between(70, 88)*degree, d.between(10, 70)*degree, d.between(0.2, 2.2), d.between(0.3, 2.5)
	c.outline = outline{base: d.between(0.05, 0.25), tip: d.between(0.5, 1), lean: 3}
	c.turn, c.twist, c.fold = math.Pi+d.near(0, 0.2), d.between(0.2, 2.4), d.between(0.05, 0.6)
	if d.chance(0.5) {
		c.turn, c.aside = golden, d.between(0.1, 0.6) // shoots of one tuft lie every way
	}
	c.veins = veins{parallel: d.between(0.5, 1.1), pillow: d.between(0, 0.12)}
}

// onions have leaves that are round in section.
func onions(c *crop, d dice) {
	c.habit, c.wide, c.leaves = thread, d.scaled(0.7, 4), c.leaves*0.5
	c.young, c.old, c.droop, c.late = d.between(75, 89)*degree, d.between(40, 75)*degree, d.between(0, 1.6), d.between(0.5, 3)
	c.turn = math.Pi + d.near(0, 0.3)
}

// feathers have leaves cut into threads, twice over.
func feathers(c *crop, d dice) {
	c.habit, c.leaflets, c.first, c.wide = feather, d.whole(4, 7), d.between(0.3, 0.5), d.between(0.35, 0.8)
	c.leaves, c.stalkWide = c.leaves*0.6, d.between(0.015, 0.025)
}

// succulents have thick leaves, domed above.
func succulents(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.2, 0.45), base: d.between(0.4, 1.2), tip: d.between(0.35, 0.7), lean: 0.8}
	c.stalk, c.curl, c.stem, c.leaves = d.between(0, 0.1), d.between(-1.3, -0.7), d.between(0, 0.4), c.leaves*1.6
	c.veins, c.droop, c.blister = veins{}, d.between(-0.6, 0.3), 0
	c.pairs = d.chance(0.3)
}

// cups have broad leaves that bend inward and close into a head.
func cups(c *crop, d dice) {
	c.outline = outline{wide: d.between(0.4, 0.58), base: d.between(0.5, 0.9), tip: d.between(0.4, 0.5),
		lean: d.between(0.7, 1.2)}
	c.stalk, c.curl, c.droop, c.young = d.between(0.08, 0.35), d.between(0.4, 1.3), d.between(-0.7, 0.2), d.between(60, 88)*degree
	c.waves, c.swing, c.blister, c.blobs = d.between(2, 5), d.between(0, 0.1), d.between(0, 0.08), d.between(0.2, 0.5)
	c.stem = d.between(0.02, 0.15)
}
