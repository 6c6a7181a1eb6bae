package plants

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
	"traygauge/vision/synth/herbarium/skin"
)

// grower draws the plants of one crop.
type grower struct {
	*crop
	*skin.Ailment
	perMM float64
}

// limb is one leaf before it is drawn: how its stalk sets out, and how old it is (0 for the youngest to 1 for the oldest).
type limb struct {
	course shape.Course // of stalk and blade together
	age    float64
	ill    float64 // how far its plant has yellowed
	tone   num.LCH // by how much its plant's colour differs from the crop's
	plant  uint8
	seed   bool
}

func (g *grower) skins(d num.Dice, l *limb) (blade, stem *skin.Skin) {
	return g.Tissue.Skins(d, g.Ailment, skin.Wear{Age: l.age, Ill: l.ill, Tone: l.tone, Long: l.course.Long, Seed: l.seed})
}

// leaf draws a leaf's sheets.
func (g *grower) leaf(d num.Dice, l *limb) []Sheet {
	blade, stem := g.skins(d, l)
	switch {
	case l.seed:
		return g.stalked(d, l, blade, stem, g.seed)
	case g.habit == trifoliate:
		return g.threefold(d, l, blade, stem)
	case g.habit == feathered:
		return g.pinnate(d, l, blade, stem)
	case g.habit == dissected:
		return g.dill(d, l, blade, stem)
	case g.habit == grassy:
		return []Sheet{g.strap(d, l, blade)}
	case g.habit == threaded:
		return []Sheet{g.thread(d, l, blade)}
	}
	return g.stalked(d, l, blade, stem, g.blade)
}

// thickness is a stalk's width in mm for a leaf of the given whole length.
func (g *grower) thickness(long float64) float64 {
	return num.Clamp(g.thick*math.Sqrt(long/40), 0.4, 4)
}

// stemOf returns the sheet of a stalk along a course.
func (g *grower) stemOf(k shape.Course, wide, end float64, l *limb, s *skin.Skin) Sheet {
	return Sheet{plant: l.plant, spine: k.Spine(4, g.perMM), blade: shape.Stalk(k.Long, wide*1.15, end), skin: s}
}

// stalked draws one blade at a stalk's end.
func (g *grower) stalked(d num.Dice, l *limb, blade, stem *skin.Skin, form shape.Former) []Sheet {
	foot, rest := l.course.Split(g.stalk, g.perMM)
	var out []Sheet
	wide := g.thickness(l.course.Long)
	if l.seed {
		wide = num.Clamp(0.09*l.course.Long, 0.4, 1.5)
	}
	if foot.Long > 0.3 {
		foot.Long += 0.18 * rest.Long // it goes on below the blade, ever thinner
		out = append(out, g.stemOf(foot, wide, 0.3*wide, l, stem))
	}
	b := form(d, rest.Long)
	if !l.seed && d.Chance(0.05) {
		b.Eaten(d, 1+d.IntN(4))
	}
	return append(out, Sheet{plant: l.plant, spine: rest.Spine(10, g.perMM), blade: b, skin: blade})
}

// threefold draws three leaflets at a stalk's end.
func (g *grower) threefold(d num.Dice, l *limb, blade, stem *skin.Skin) []Sheet {
	foot, rest := l.course.Split(g.stalk, g.perMM)
	out := []Sheet{g.stemOf(foot, g.thickness(l.course.Long)*0.7, g.thickness(l.course.Long)*0.6, l, stem)}
	for _, side := range [3]float64{-1, 1, 0} {
		k := rest
		k.Way += side * d.Around(1.5, 0.2)
		k.Long *= d.Around(1, 0.05) * (1 - 0.1*math.Abs(side))
		k.Rise = d.Around(rest.Rise*0.4, g.uneven)
		k.Roll = d.Around(0, g.uneven)
		out = append(out, Sheet{plant: l.plant, spine: k.Spine(8, g.perMM), blade: g.blade(d, k.Long), skin: blade})
	}
	return out
}

// pinnate draws leaflets in pairs along a stalk, and one at its end.
func (g *grower) pinnate(d num.Dice, l *limb, blade, stem *skin.Skin) []Sheet {
	rachis := l.course
	rachis.Long *= 0.8
	sp := rachis.Spine(12, g.perMM)
	out := []Sheet{{plant: l.plant, spine: sp, blade: shape.Stalk(rachis.Long, g.thickness(l.course.Long), 0.5), skin: stem}}
	pairs := max(1, int(float64(g.pairs)*num.Mix(0.6, 1, l.age)+0.5))
	step := (1 - g.stalk) / float64(pairs)
	size := l.course.Long * min(0.42, 1.25*step) * d.Between(0.85, 1.1)
	for i := range pairs {
		t := g.stalk + step*(float64(i)+0.35)
		for _, side := range [2]float64{-1, 1} {
			at := num.Clamp(t+d.Around(0, 0.1*step), 0, 1)
			out = append(out, g.leaflet(d, l, sp, at, side*d.Around(1.15-0.25*t, 0.12), size*num.Mix(0.75, 1, t), blade))
		}
	}
	return append(out, g.leaflet(d, l, sp, 1, d.Around(0, 0.1), size*1.15, blade))
}

// leaflet draws one leaflet at a share of the way along a spine.
func (g *grower) leaflet(d num.Dice, l *limb, sp shape.Spine, t, aside, long float64, s *skin.Skin) Sheet {
	last := float64(len(sp.Stations) - 1)
	i := min(int(t*last), len(sp.Stations)-2)
	a, b := &sp.Stations[i], &sp.Stations[i+1]
	f := t*last - float64(i)
	along := a.Along.Toward(b.Along, f)
	k := shape.Course{
		From: a.At.Toward(b.At, f), Z: num.Mix(a.Z, b.Z, f) + 0.3, Long: long, Way: math.Atan2(along.Y, along.X) + aside,
		Rise: d.Around(0.15, g.uneven), Droop: g.droop * d.Between(0.3, 1), Late: 1, Fold: g.fold, Roll: d.Around(0, g.uneven), Turn: -0.3 * aside,
	}
	return Sheet{plant: l.plant, spine: k.Spine(7, g.perMM), blade: g.blade(d, long), skin: s}
}

// dill draws threads in pairs along a stalk, each with pairs of its own, as one sheet of many outlines.
func (g *grower) dill(d num.Dice, l *limb, blade, _ *skin.Skin) []Sheet {
	long := l.course.Long
	wide := max(0.3, g.wide)
	b := shape.Strap(long, wide*1.4, 0.1, shape.Veins{Kind: shape.Unveined})
	step := (1 - g.stalk) / float64(g.pairs)
	for i := range g.pairs {
		t := g.stalk + step*(float64(i)+0.3)
		for _, side := range [2]float64{-1, 1} {
			way := side * d.Around(0.95, 0.12)
			arm := long * 0.5 * (1 - 0.75*t) * d.Around(1, 0.12)
			b.Threads(d, num.At(t*long, 0), way, arm, wide, 2)
		}
	}
	b.Measure()
	blade.Level()
	return []Sheet{{plant: l.plant, spine: l.course.Spine(12, g.perMM), blade: b, skin: blade}}
}

// strap draws a grass blade.
func (g *grower) strap(d num.Dice, l *limb, s *skin.Skin) Sheet {
	long := l.course.Long
	wide := num.Clamp(g.wide*math.Sqrt(long/60)*d.Around(1, 0.12), 0.6, 9)
	v := shape.Veins{Kind: shape.Parallel, Apart: max(0.5, wide/math.Floor(4+wide)), Mid: 0.05 * wide, Fine: 0.08}
	k := l.course
	k.Waves, k.Phase = d.Between(0, 0.25), d.Angle()
	b := shape.Strap(long, wide, d.Between(0.3, 0.8), v)
	return Sheet{plant: l.plant, spine: k.Spine(26, g.perMM), blade: b, skin: s}
}

// thread draws a round, hollow leaf as onions have, often kinked.
func (g *grower) thread(d num.Dice, l *limb, s *skin.Skin) Sheet {
	wide := num.Clamp(g.wide*d.Around(1, 0.15)*math.Sqrt(l.course.Long/50), 0.4, 4)
	k := l.course
	k.Late = d.Between(1, 6)
	if d.Chance(0.3) {
		k.Droop += d.Between(0.5, 1.5)
	}
	k.Fold, k.Roll, k.Twist = 0, 0, 0
	b := shape.Strap(l.course.Long, wide, 0.25, shape.Veins{Kind: shape.Unveined})
	return Sheet{plant: l.plant, spine: k.Spine(20, g.perMM), blade: b, skin: s.Round()}
}
