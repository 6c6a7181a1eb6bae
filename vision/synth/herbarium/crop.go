package herbarium

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
	palette
	surface
	habit     habit
	blade     former
	seed      former // nil for a crop that has one seed leaf like its others
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
func cropOf(d dice, plain bool) *crop {
	c := &crop{
		palette: paletteOf(d, plain), seed: seedForm(d), seedLong: d.wide(3, 13), opposite: d.chance(0.2), apart: 2.4,
		stalk: d.between(0.1, 0.5), thick: d.wide(0.8, 3.5), youngRise: d.between(0.7, 1.25), oldRise: d.between(0, 0.5),
		droop: d.between(0, 0.9), late: d.between(1, 3), fold: d.around(0.15, 0.22), uneven: d.between(0.05, 0.35),
		twist: d.some(0.3, -0.8, 0.8), turn: d.between(0, 0.35), few: 4, many: 9, first: d.between(0.55, 1),
		stem: d.between(0.05, 0.35), lean: d.between(0, 0.6),
	}
	if d.chance(0.1) {
		c.apart = 3.1416 // distichous
	}
	if plain && !d.chance(0.1) {
		c.leafy(d)
	} else {
		c.any(d)
	}
	c.surface = c.surfaced(d)
	return c
}

// leafy draws the form of a leafy vegetable.
func (c *crop) leafy(d dice) {
	switch d.pick(0.24, 0.22, 0.2, 0.14, 0.12, 0.08) {
	case 0:
		c.blade, c.stalk = ovateForm(d), d.between(0.15, 0.5)
	case 1:
		c.blade, c.stalk, c.many = spoonForm(d), d.between(0.02, 0.4), 12
	case 2:
		c.blade, c.stalk = lobedForm(d), d.between(0.05, 0.45)
	case 3:
		c.blade, c.stalk = heartForm(d), d.between(0.3, 0.65)
	case 4:
		c.blade, c.stalk, c.many = frilledForm(d), d.between(0.02, 0.2), 12
	default:
		c.cabbage(d)
	}
}

// frilledForm draws lettuce-like blades whose edges always wave.
func frilledForm(d dice) former {
	return simpleForm(d, d.between(0.55, 0.95), d.between(0.8, 1.5), d.between(0.3, 0.45), 0.2, 1)
}

func (c *crop) cabbage(d dice) {
	c.blade, c.stalk, c.many = cabbageForm(d), d.between(0.05, 0.35), 14
	c.fold, c.droop, c.thick = d.between(0.2, 0.6), d.between(-0.5, 0.3), d.wide(2, 4)
}

func (c *crop) any(d dice) {
	switch d.pick(0.1, 0.1, 0.11, 0.09, 0.08, 0.08, 0.09, 0.3, 0.07, 0.06, 0.05, 0.03) {
	case 0:
		c.leafy(d)
	case 1:
		c.blade, c.many = lanceForm(d), 14
		c.stalk = d.between(0, 0.3)
	case 2:
		c.blade, c.stalk = handForm(d), d.between(0.4, 0.65)
	case 3:
		c.blade, c.stalk = heartForm(d), d.between(0.35, 0.7)
	case 4:
		c.blade, c.stalk = lobedForm(d), d.between(0, 0.3)
	case 5:
		c.habit, c.blade, c.stalk = trifoliate, leafletForm(d), d.between(0.4, 0.7)
	case 6:
		c.habit, c.blade, c.stalk, c.pairs = feathered, leafletForm(d), d.between(0.2, 0.45), 1+d.IntN(5)
	case 7:
		c.grass(d)
	case 8:
		c.habit, c.seed, c.few, c.many, c.wide = threaded, nil, 1, 5, d.wide(0.6, 3)
		c.youngRise, c.oldRise, c.droop = d.between(0.7, 1.3), d.between(0.2, 0.9), d.between(0, 1)
	case 9:
		c.habit, c.stalk, c.pairs, c.wide, c.many = dissected, d.between(0.2, 0.5), 3+d.IntN(5), d.wide(0.35, 0.9), 6
	case 10:
		c.blade, c.stalk, c.few, c.many = succulentForm(d), d.between(0, 0.08), 7, 18
		c.droop, c.oldRise, c.fold = -d.between(0, 0.5), d.between(0.1, 0.5), d.between(-0.3, 0.3)
	default:
		c.blade, c.stalk, c.few, c.many = needleForm(d), 0.02, 10, 26
		c.droop, c.first = d.between(-0.2, 0.4), 1
	}
}

// leafletForm draws the blades of leaflets.
func leafletForm(d dice) former {
	switch d.pick(0.6, 0.25, 0.15) {
	case 0:
		return ovateForm(d)
	case 1:
		return lobedForm(d)
	default:
		return spoonForm(d)
	}
}

func (c *crop) grass(d dice) {
	c.habit, c.seed, c.few, c.many, c.wide = grassy, nil, 2, 5+d.IntN(18), d.wide(1, 8)
	c.youngRise, c.oldRise = d.between(0.6, 1.3), d.between(0.15, 1.1)
	c.droop, c.late = d.between(0.2, 2.3), d.between(0.8, 2.8)
	c.twist, c.fold, c.uneven, c.turn = d.between(-2, 2), d.between(0, 0.6), d.between(0.1, 0.5), d.between(0.1, 0.7)
	if d.chance(0.8) {
		c.grassy(d)
	}
	c.vein = c.healthy.toward(c.vein, 0.5)
}

// surfaced draws how the crop's leaves are made and shine.
func (c *crop) surfaced(d dice) surface {
	s := surface{
		rolling: d.wide(0.08, 0.6), quilt: d.some(0.4, 0.08, 0.55) + d.between(0, 0.06), sunk: d.between(0, 0.35), crumple: d.wide(0.05, 0.5), crumpled: d.wide(4, 12),
		pebble: d.some(0.5, 0.02, 0.12), pebbled: d.wide(0.7, 2), ripple: d.some(0.4, 0.15, 1.1), rippled: d.wide(3, 14),
		cup: d.around(0, 0.3), gloss: d.wide(0.01, 0.5), rough: d.wide(0.14, 0.55), broken: d.between(0.3, 1),
		sheen: d.wide(0.008, 0.07), fuzz: d.some(0.2, 0.05, 0.35), dust: d.some(0.1, 0.05, 0.35), through: d.wide(0.04, 0.5),
		mottle: d.wide(0.04, 0.15), veiny: d.between(0.12, 0.75), netted: d.some(0.5, 0.03, 0.28), rib: d.between(0.4, 1),
		keep: d.between(0, 0.7), paler: d.some(0.6, 0.1, 0.6), curl: d.around(0, 0.12), curled: d.wide(0.4, 2.5),
	}
	s.gloss *= clamp(0.2/s.rough, 0.3, 1) // the wider a surface spreads the lamp's light, the less there is of it in one place
	if s.fuzz > 0 {
		s.gloss *= 0.3
	}
	if c.habit == grassy || c.habit == threaded || c.habit == dissected {
		s.quilt, s.ripple, s.pebble, s.netted, s.crumple = 0, s.ripple*0.3, 0, 0, s.crumple*0.4
		s.veiny *= 0.5
	}
	return s
}
