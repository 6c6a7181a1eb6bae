package plants

import (
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
	"traygauge/vision/synth/herbarium/skin"
)

// habit is how a leaf is made up.
type habit int

const (
	simple     habit = iota // one blade on a stalk
	trifoliate              // three leaflets at a stalk's end
	feathered               // leaflets along a stalk, in pairs
	dissected               // threads along a stalk, in pairs
	grassy                  // a strap from the ground
	threaded                // a thread from the ground
)

// crop is one kind of plant.
type crop struct {
	skin.Tissue
	habit     habit
	blade     shape.Former
	seed      shape.Former // nil for a crop that has one seed leaf like its others
	seedLong  float64
	opposite  bool    // leaves in pairs, each across the last
	apart     float64 // radians from a leaf to the next
	stalk     float64 // share of a leaf's length
	thick     float64 // mm of a stalk 40 mm long with its blade
	youngRise float64 // radians above level
	oldRise   float64
	droop     float64
	late      float64
	fold      float64
	uneven    float64 // how much leaves differ in how they lie
	twist     float64
	turn      float64
	few, many int     // leaves of a plant grown up
	first     float64 // size of the oldest leaf over that of the largest
	stem      float64 // height of the crown over the medium, as a share of the plant's reach
	lean      float64 // how far the crown leans aside, as a share of the stem's height
	pairs     int     // of leaflets
	wide      float64 // mm, of straps and threads
}

// cropOf draws a crop; a plain one is a leafy vegetable.
func cropOf(d num.Dice, plain bool) *crop {
	c := &crop{
		Tissue: skin.Tissue{Palette: skin.PaletteOf(d, plain)}, seed: shape.SeedForm(d), seedLong: d.Wide(3, 13), opposite: d.Chance(0.2), apart: 2.4,
		stalk: d.Between(0.1, 0.5), thick: d.Wide(0.8, 3.5), youngRise: d.Between(0.7, 1.25), oldRise: d.Between(0, 0.5),
		droop: d.Between(0, 0.9), late: d.Between(1, 3), fold: d.Around(0.15, 0.22), uneven: d.Between(0.05, 0.35),
		twist: d.Some(0.3, -0.8, 0.8), turn: d.Between(0, 0.35), few: 4, many: 9, first: d.Between(0.55, 1),
		stem: d.Between(0.05, 0.35), lean: d.Between(0, 0.6),
	}
	if d.Chance(0.1) {
		c.apart = 3.1416 // distichous
	}
	if plain && !d.Chance(0.1) {
		c.leafy(d)
	} else {
		c.any(d)
	}
	c.Surface = skin.SurfaceOf(d, c.habit == grassy || c.habit == threaded || c.habit == dissected)
	return c
}

// leafy draws the form of a leafy vegetable.
func (c *crop) leafy(d num.Dice) {
	switch d.Pick(0.24, 0.22, 0.2, 0.14, 0.12, 0.08) {
	case 0:
		c.blade, c.stalk = shape.OvateForm(d), d.Between(0.15, 0.5)
	case 1:
		c.blade, c.stalk, c.many = shape.SpoonForm(d), d.Between(0.02, 0.4), 12
	case 2:
		c.blade, c.stalk = shape.LobedForm(d), d.Between(0.05, 0.45)
	case 3:
		c.blade, c.stalk = shape.HeartForm(d), d.Between(0.3, 0.65)
	case 4:
		c.blade, c.stalk, c.many = frilledForm(d), d.Between(0.02, 0.2), 12
	default:
		c.cabbage(d)
	}
}

// frilledForm draws lettuce-like blades whose edges always wave.
func frilledForm(d num.Dice) shape.Former {
	return shape.SimpleForm(d, d.Between(0.55, 0.95), d.Between(0.8, 1.5), d.Between(0.3, 0.45), 0.2, 1)
}

func (c *crop) cabbage(d num.Dice) {
	c.blade, c.stalk, c.many = shape.CabbageForm(d), d.Between(0.05, 0.35), 14
	c.fold, c.droop, c.thick = d.Between(0.2, 0.6), d.Between(-0.5, 0.3), d.Wide(2, 4)
}

func (c *crop) any(d num.Dice) {
	switch d.Pick(0.1, 0.1, 0.11, 0.09, 0.08, 0.08, 0.09, 0.3, 0.07, 0.06, 0.05, 0.03) {
	case 0:
		c.leafy(d)
	case 1:
		c.blade, c.many = shape.LanceForm(d), 14
		c.stalk = d.Between(0, 0.3)
	case 2:
		c.blade, c.stalk = shape.HandForm(d), d.Between(0.4, 0.65)
	case 3:
		c.blade, c.stalk = shape.HeartForm(d), d.Between(0.35, 0.7)
	case 4:
		c.blade, c.stalk = shape.LobedForm(d), d.Between(0, 0.3)
	case 5:
		c.habit, c.blade, c.stalk = trifoliate, leafletForm(d), d.Between(0.4, 0.7)
	case 6:
		c.habit, c.blade, c.stalk, c.pairs = feathered, leafletForm(d), d.Between(0.2, 0.45), 1+d.IntN(5)
	case 7:
		c.grass(d)
	case 8:
		c.habit, c.seed, c.few, c.many, c.wide = threaded, nil, 1, 5, d.Wide(0.6, 3)
		c.youngRise, c.oldRise, c.droop = d.Between(0.7, 1.3), d.Between(0.2, 0.9), d.Between(0, 1)
	case 9:
		c.habit, c.stalk, c.pairs, c.wide, c.many = dissected, d.Between(0.2, 0.5), 3+d.IntN(5), d.Wide(0.35, 0.9), 6
	case 10:
		c.blade, c.stalk, c.few, c.many = shape.SucculentForm(d), d.Between(0, 0.08), 7, 18
		c.droop, c.oldRise, c.fold = -d.Between(0, 0.5), d.Between(0.1, 0.5), d.Between(-0.3, 0.3)
	default:
		c.blade, c.stalk, c.few, c.many = shape.NeedleForm(d), 0.02, 10, 26
		c.droop, c.first = d.Between(-0.2, 0.4), 1
	}
}

// leafletForm draws the blades of leaflets.
func leafletForm(d num.Dice) shape.Former {
	switch d.Pick(0.6, 0.25, 0.15) {
	case 0:
		return shape.OvateForm(d)
	case 1:
		return shape.LobedForm(d)
	default:
		return shape.SpoonForm(d)
	}
}

func (c *crop) grass(d num.Dice) {
	c.habit, c.seed, c.few, c.many, c.wide = grassy, nil, 2, 5+d.IntN(18), d.Wide(1, 8)
	c.youngRise, c.oldRise = d.Between(0.6, 1.3), d.Between(0.15, 1.1)
	c.droop, c.late = d.Between(0.2, 2.3), d.Between(0.8, 2.8)
	c.twist, c.fold, c.uneven, c.turn = d.Between(-2, 2), d.Between(0, 0.6), d.Between(0.1, 0.5), d.Between(0.1, 0.7)
	if d.Chance(0.8) {
		c.Grassy(d)
	}
	c.Fainter()
}
