package plants

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
)

// stage is how far a drawing's plants have grown.
type stage int

const (
	seedlings stage = iota // seed leaves, at most a bud more
	apart                  // first leaves, plants apart
	touching
	closed // a canopy with much overlap
)

// sown is one plant before it is drawn. Lengths in mm.
type sown struct {
	base  num.Point // in texels
	z     float64   // of the medium
	reach float64   // from the crown to the tip of its longest leaves
	grown float64   // 0 with one leaf to 1 with all it gets
	stage stage
	plant uint8
}

// plant draws a plant's sheets.
func (g *grower) plant(d num.Dice, s *sown) []Sheet {
	l := limb{plant: s.plant, tone: num.LCH{L: d.Around(0, 2.5), C: d.Around(0, 3), H: d.Around(0, 1.8)}}
	l.ill = g.Ailment.Ill(d)
	if s.stage == seedlings && g.seed != nil {
		return g.seedling(d, s, l)
	}
	return g.grownUp(d, s, l)
}

// trunk draws the stem of a plant, which leaves its base leaning to one side, and returns its spine.
func (g *grower) trunk(d num.Dice, s *sown, l *limb, height, wide float64) (shape.Spine, []Sheet) {
	lean := height * g.lean * d.Between(0.2, 1.2)
	k := shape.Course{
		From: s.base, Z: s.z, Way: d.Angle(), Turn: d.Around(0, 0.5),
		Long: math.Sqrt(height*height + lean*lean), Rise: math.Atan2(height, lean), Droop: d.Around(0, 0.2), Late: 1,
	}
	sp := k.Spine(8, g.perMM)
	_, skin := g.skins(d, &limb{age: 0.3, ill: 0.5 * l.ill, tone: l.tone})
	skin.Alive()
	return sp, []Sheet{{plant: l.plant, spine: sp, blade: shape.Stalk(k.Long, wide, wide*0.8), skin: skin}}
}

// seedling draws a plant of two seed leaves, some with a first small leaf.
func (g *grower) seedling(d num.Dice, s *sown, l limb) []Sheet {
	height := d.Wide(3, 22) * math.Sqrt(s.reach/10)
	sp, out := g.trunk(d, s, &l, height, num.Clamp(0.1*s.reach, 0.5, 1.8))
	out = append(out, g.seedLeaves(d, &l, sp, 1, s.reach)...)
	if d.Chance(0.4) {
		l.age = 0
		for k := range 1 + d.IntN(2) {
			l.course = g.lie(d, sp, 1, s.reach*d.Between(0.15, 0.5), 0, d.Angle()+3.1*float64(k))
			out = append(out, raised(g.leaf(d, &l), 1)...)
		}
	}
	return out
}

// seedLeaves draws the two seed leaves at a share of the stem's length.
func (g *grower) seedLeaves(d num.Dice, l *limb, sp shape.Spine, at, long float64) []Sheet {
	var out []Sheet
	way, gape := d.Angle(), d.Around(3.14, 0.25)
	rise := d.Around(0.25, 0.3)
	leaf := *l
	leaf.age, leaf.seed = 1, true
	seedling := *g
	c := *g.crop
	c.stalk = d.Between(0.1, 0.45)
	seedling.crop = &c
	for side := range 2 {
		k := g.lie(d, sp, at, long*d.Around(1, 0.1), 1, way+gape*float64(side))
		k.Rise, k.Droop, k.Fold, k.Twist = d.Around(rise, 0.15), d.Between(0, 0.5), d.Around(0, 0.15), 0
		leaf.course = k
		out = append(out, seedling.leaf(d, &leaf)...)
	}
	return out
}

// lie draws how a leaf of the given length and age leaves the stem at a share of its length.
func (g *grower) lie(d num.Dice, sp shape.Spine, at, long, age, way float64) shape.Course {
	st := sp.Stations[int(at*float64(len(sp.Stations)-1)+0.5)]
	rise := num.Mix(g.youngRise, g.oldRise, math.Pow(age, 0.6))
	return shape.Course{
		From: st.At, Z: st.Z, Long: long, Way: way, Turn: d.Around(0, g.crop.turn), Rise: d.Around(rise, g.uneven),
		Droop: g.droop*num.Mix(0.5, 1.1, age) + d.Around(0, g.uneven*0.6), Late: g.late, Waves: d.Around(0, 0.08), Phase: d.Angle(),
		Fold: g.fold*num.Mix(1.6, 0.9, age) + d.Around(0, 0.08), Roll: d.Around(0, g.uneven), Twist: g.twist * d.Around(0.6, 0.5),
	}
}

// grownUp draws a plant with leaves of its crop, the oldest first.
func (g *grower) grownUp(d num.Dice, s *sown, l limb) []Sheet {
	n := g.leaves(d, s)
	height := max(1.5, g.crop.stem*s.reach*d.Around(1, 0.2))
	sp, out := g.trunk(d, s, &l, height, num.Clamp(g.thickness(s.reach)*1.1, 0.6, 4))
	if seeds := [4]float64{1, 0.8, 0.45, 0.12}[s.stage]; g.seed != nil && d.Chance(seeds) {
		out = append(out, g.seedLeaves(d, &l, sp, 0.4, min(g.seedLong*d.Around(1.2, 0.1), 0.8*s.reach))...)
	}
	start := d.Angle()
	if g.habit != grassy && g.habit != threaded {
		out = append(out, g.bud(d, s, &l, sp, start)...)
	}
	for k := range n {
		l.age = 0.5
		if n > 1 {
			l.age = 1 - float64(k)/float64(n-1)
		}
		long := s.reach * g.size(l.age) * d.Around(1, 0.08)
		l.course = g.lie(d, sp, num.Mix(1, 0.45, l.age), max(1.5, long), l.age, start+g.azimuth(k)+d.Around(0, 0.14))
		out = append(out, raised(g.leaf(d, &l), (1-l.age)*0.25*s.reach)...)
	}
	return out
}

// bud draws the youngest leaves, which stand close together over the crown.
func (g *grower) bud(d num.Dice, s *sown, l *limb, sp shape.Spine, start float64) []Sheet {
	var out []Sheet
	leaf := *l
	for k := range 2 + d.IntN(3) {
		long := max(1.2, s.reach*d.Between(0.05, 0.16))
		leaf.course = g.lie(d, sp, 1, long, 0, start+1.2+g.azimuth(k)+d.Around(0, 0.3))
		leaf.course.Rise = d.Between(0.6, 1.3)
		out = append(out, raised(g.leaf(d, &leaf), 0.27*s.reach)...)
	}
	return out
}

// leaves draws how many leaves a plant has.
func (g *grower) leaves(d num.Dice, s *sown) int {
	n := int(num.Mix(1, float64(g.many), s.grown)*d.Around(1, 0.12) + 0.5)
	if g.opposite && g.habit == simple {
		n += n % 2
	}
	if g.habit == simple {
		n = max(n, 2)
	}
	return max(n, int(float64(g.few)*s.grown), 1)
}

// size is a leaf's length by its age, over that of the longest.
func (g *grower) size(age float64) float64 {
	return num.Ease(-0.2, 0.6, age) * num.Mix(1, g.first, num.Ease(0.6, 1, age)) * 1.1
}

// azimuth is the direction of a plant's k-th leaf from its first.
func (g *grower) azimuth(k int) float64 {
	if g.opposite {
		return math.Pi*float64(k%2) + math.Pi/2*float64(k/2)
	}
	return g.apart * float64(k)
}

// raised lets sheets lie over others that are as high.
func raised(sheets []Sheet, by float64) []Sheet {
	for i := range sheets {
		sheets[i].lift += by
	}
	return sheets
}
