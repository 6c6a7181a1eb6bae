package herbarium

import "math"

// grower draws the plants of one crop.
type grower struct {
	*crop
	*ailment
	perMM float64
}

// limb is one leaf before it is drawn: how its stalk sets out, and how old it is (0 for the youngest to 1 for the oldest).
type limb struct {
	course course // of stalk and blade together
	age    float64
	ill    float64 // how far its plant has yellowed
	tone   lch     // by how much its plant's colour differs from the crop's
	plant  uint8
	seed   bool
}

// skins draws the skins of a leaf's blade and stalk.
func (g *grower) skins(d dice, l *limb) (blade, stem *skin) {
	colour := func(k lch) lch {
		return lch{clamp(k.l+l.tone.l, 8, 90), max(2, k.c+l.tone.c), k.h + l.tone.h}
	}
	own := colour(g.healthy.toward(g.young, math.Pow(1-l.age, 2))).scattered(d, 1.5, 1.5, 1)
	fade, decay := g.strike(d, l.age, l.ill)
	full := g.full.scattered(d, 2, 3, 2)
	blade = &skin{
		surface: g.surface, blade: rampOf(own, full, g.bleached), vein: rampOf(colour(g.vein), full, g.bleached),
		under: rampOf(colour(g.under), full, g.bleached), blush: g.blush.scattered(d, 2, 3, 6).light(), marks: g.marks.light(),
		lit:   lch{own.l + 16, own.c + 22, own.h - 8}.light(),
		where: g.where, blushed: g.blushed * d.between(0.6, 1.1), marked: g.marked, dark: g.dark.scattered(d, 4, 3, 5).light(),
		tan: g.tan.scattered(d, 6, 4, 4).light(), fade: fade, decay: decay, phase: d.Float64(),
	}
	blade.sized(d, l.course.long)
	blade.margin = l.course.long * d.between(0.02, 0.07)
	if l.seed {
		blade.quilt, blade.ripple, blade.netted, blade.veiny, blade.marked = 0, 0, 0, blade.veiny*0.3, unmarked
	}
	return blade, g.stemSkin(d, blade, colour(g.stalks))
}

// sized fits the relief to a leaf of the given length in mm, and lays its noises out anew.
func (k *skin) sized(d dice, long float64) {
	size := clamp(math.Sqrt(long/40), 0.3, 1.4)
	for _, v := range []*float64{&k.quilt, &k.sunk, &k.crumple, &k.crumpled, &k.ripple, &k.rippled, &k.curl, &k.curled} {
		*v *= size
	}
	k.wander, k.rich = plotOf(d, perWave, k.crumpled), plotOf(d, perWave, d.wide(3, 9))
	k.cell = plotOf(d, perCell, k.pebbled)
	slow := clamp(long*d.between(0.3, 0.6), 4, 40) // mm from one rise to the next
	k.swell, k.swollen = plotOf(d, perWave, slow), k.rolling*slow/3
}

func (g *grower) stemSkin(d dice, blade *skin, colour lch) *skin {
	r := rampOf(colour.scattered(d, 2, 2, 1.5), g.full, g.bleached)
	s := *blade
	s.blade, s.vein, s.under, s.tube = r, r, r, true
	s.where, s.marked, s.netted, s.mottle, s.paler, s.curl = noBlush, unmarked, 0, 0.05, 0, 0
	s.fade = fade{whole: 0.7 * blade.fade.whole, plot: blade.fade.plot}
	s.decay = decay{whole: blade.decay.whole, plot: blade.decay.plot}
	return &s
}

// leaf draws a leaf's sheets.
func (g *grower) leaf(d dice, l *limb) []sheet {
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
		return []sheet{g.strap(d, l, blade)}
	case g.habit == threaded:
		return []sheet{g.thread(d, l, blade)}
	}
	return g.stalked(d, l, blade, stem, g.blade)
}

// split cuts a course in two at a share of its length. Each part takes its own part of the sinking and the turning.
func (k course) split(share float64, perMM float64) (first, rest course) {
	first, rest = k, k
	first.long, rest.long = k.long*share, k.long*(1-share)
	first.droop, rest.droop = 0.2*k.droop, 0.8*k.droop
	first.turn, rest.turn = 0.3*k.turn, 0.7*k.turn
	first.waves, first.roll, first.twist, first.fold = 0, 0, 0, 0
	if first.long > 0.3 {
		rest.from, rest.z, rest.way = first.spine(4, perMM).end()
	}
	rest.rise = first.climb(1)
	return first, rest
}

// thickness is a stalk's width in mm for a leaf of the given whole length.
func (g *grower) thickness(long float64) float64 {
	return clamp(g.thick*math.Sqrt(long/40), 0.4, 4)
}

// stemOf returns the sheet of a stalk along a course.
func (g *grower) stemOf(k course, wide, end float64, l *limb, s *skin) sheet {
	return sheet{plant: l.plant, spine: k.spine(4, g.perMM), blade: stalk(k.long, wide*1.15, end), skin: s}
}

// stalked draws one blade at a stalk's end.
func (g *grower) stalked(d dice, l *limb, blade, stem *skin, form former) []sheet {
	foot, rest := l.course.split(g.stalk, g.perMM)
	var out []sheet
	wide := g.thickness(l.course.long)
	if l.seed {
		wide = clamp(0.09*l.course.long, 0.4, 1.5)
	}
	if foot.long > 0.3 {
		foot.long += 0.18 * rest.long // it goes on below the blade, ever thinner
		out = append(out, g.stemOf(foot, wide, 0.3*wide, l, stem))
	}
	b := form(d, rest.long)
	if !l.seed && d.chance(0.05) {
		b.eaten(d, 1+d.IntN(4))
	}
	return append(out, sheet{plant: l.plant, spine: rest.spine(10, g.perMM), blade: b, skin: blade})
}

// threefold draws three leaflets at a stalk's end.
func (g *grower) threefold(d dice, l *limb, blade, stem *skin) []sheet {
	foot, rest := l.course.split(g.stalk, g.perMM)
	out := []sheet{g.stemOf(foot, g.thickness(l.course.long)*0.7, g.thickness(l.course.long)*0.6, l, stem)}
	for _, side := range [3]float64{-1, 1, 0} {
		k := rest
		k.way += side * d.around(1.5, 0.2)
		k.long *= d.around(1, 0.05) * (1 - 0.1*math.Abs(side))
		k.rise = d.around(rest.rise*0.4, g.uneven)
		k.roll = d.around(0, g.uneven)
		out = append(out, sheet{plant: l.plant, spine: k.spine(8, g.perMM), blade: g.blade(d, k.long), skin: blade})
	}
	return out
}

// pinnate draws leaflets in pairs along a stalk, and one at its end.
func (g *grower) pinnate(d dice, l *limb, blade, stem *skin) []sheet {
	rachis := l.course
	rachis.long *= 0.8
	sp := rachis.spine(12, g.perMM)
	out := []sheet{{plant: l.plant, spine: sp, blade: stalk(rachis.long, g.thickness(l.course.long), 0.5), skin: stem}}
	pairs := max(1, int(float64(g.pairs)*mix(0.6, 1, l.age)+0.5))
	step := (1 - g.stalk) / float64(pairs)
	size := l.course.long * min(0.42, 1.25*step) * d.between(0.85, 1.1)
	for i := range pairs {
		t := g.stalk + step*(float64(i)+0.35)
		for _, side := range [2]float64{-1, 1} {
			at := clamp(t+d.around(0, 0.1*step), 0, 1)
			out = append(out, g.leaflet(d, l, sp, at, side*d.around(1.15-0.25*t, 0.12), size*mix(0.75, 1, t), blade))
		}
	}
	return append(out, g.leaflet(d, l, sp, 1, d.around(0, 0.1), size*1.15, blade))
}

// leaflet draws one leaflet at a share of the way along a spine.
func (g *grower) leaflet(d dice, l *limb, sp spine, t, aside, long float64, s *skin) sheet {
	last := float64(len(sp.stations) - 1)
	i := min(int(t*last), len(sp.stations)-2)
	a, b := &sp.stations[i], &sp.stations[i+1]
	f := t*last - float64(i)
	along := a.along.toward(b.along, f)
	k := course{
		from: a.at.toward(b.at, f), z: mix(a.z, b.z, f) + 0.3, long: long, way: math.Atan2(along.y, along.x) + aside,
		rise: d.around(0.15, g.uneven), droop: g.droop * d.between(0.3, 1), late: 1, fold: g.fold, roll: d.around(0, g.uneven), turn: -0.3 * aside,
	}
	return sheet{plant: l.plant, spine: k.spine(7, g.perMM), blade: g.blade(d, long), skin: s}
}

// dill draws threads in pairs along a stalk, each with pairs of its own, as one sheet of many outlines.
func (g *grower) dill(d dice, l *limb, blade, _ *skin) []sheet {
	long := l.course.long
	wide := max(0.3, g.wide)
	b := strap(long, wide*1.4, 0.1, veins{kind: unveined})
	step := (1 - g.stalk) / float64(g.pairs)
	for i := range g.pairs {
		t := g.stalk + step*(float64(i)+0.3)
		for _, side := range [2]float64{-1, 1} {
			way := side * d.around(0.95, 0.12)
			arm := long * 0.5 * (1 - 0.75*t) * d.around(1, 0.12)
			b.threads(d, point{t * long, 0}, way, arm, wide, 2)
		}
	}
	b.measure()
	blade.cup = 0
	return []sheet{{plant: l.plant, spine: l.course.spine(12, g.perMM), blade: b, skin: blade}}
}

// threads adds a thread and, to the given depth, those that branch off from it.
func (b *blade) threads(d dice, from point, way, long, wide float64, depth int) {
	dir := heading(way)
	at := func(s, y float64) point { return from.plus(dir.times(s)).plus(dir.left().times(y)) }
	b.rings = append(b.rings, ring{at(0, wide/2), at(0, -wide/2), at(long*0.7, -wide*0.4), at(long, 0), at(long*0.7, wide*0.4)}.facing(false))
	if depth == 0 || long < 2 {
		return
	}
	for k := range 3 {
		t := 0.3 + 0.25*float64(k)
		for _, side := range [2]float64{-1, 1} {
			b.threads(d, at(t*long, 0), way+side*d.around(0.7, 0.1), long*0.42*(1.1-t)*d.around(1, 0.15), wide*0.85, depth-1)
		}
	}
}

// strap draws a grass blade.
func (g *grower) strap(d dice, l *limb, s *skin) sheet {
	long := l.course.long
	wide := clamp(g.wide*math.Sqrt(long/60)*d.around(1, 0.12), 0.6, 9)
	v := veins{kind: parallel, apart: max(0.5, wide/math.Floor(4+wide)), mid: 0.05 * wide, fine: 0.08}
	k := l.course
	k.waves, k.phase = d.between(0, 0.25), d.angle()
	b := strap(long, wide, d.between(0.3, 0.8), v)
	return sheet{plant: l.plant, spine: k.spine(26, g.perMM), blade: b, skin: s}
}

// thread draws a round, hollow leaf as onions have, often kinked.
func (g *grower) thread(d dice, l *limb, s *skin) sheet {
	wide := clamp(g.wide*d.around(1, 0.15)*math.Sqrt(l.course.long/50), 0.4, 4)
	k := l.course
	k.late = d.between(1, 6)
	if d.chance(0.3) {
		k.droop += d.between(0.5, 1.5)
	}
	k.fold, k.roll, k.twist = 0, 0, 0
	t := *s
	t.tube = true
	b := strap(l.course.long, wide, 0.25, veins{kind: unveined})
	return sheet{plant: l.plant, spine: k.spine(20, g.perMM), blade: b, skin: &t}
}
