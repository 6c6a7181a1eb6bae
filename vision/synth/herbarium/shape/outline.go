package shape

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Contour says how a blade's width goes along its midrib. Both sides are drawn from it, a little unlike each other.
type Contour struct {
	Long, Wide float64 // mm
	Base, Tip  float64 // how the width grows from the base and shrinks to the tip: 0.4 blunt, 1 straight, 2 drawn out
	Uneven     float64 // share by which the sides differ
}

// Ring returns the outline. Its corners lie closest at both ends.
func (k Contour) Ring(d num.Dice, corners int) num.Ring {
	peak := math.Pow(k.Base/(k.Base+k.Tip), k.Base) * math.Pow(k.Tip/(k.Base+k.Tip), k.Tip)
	width := func(t float64) float64 { return k.Wide / 2 / peak * math.Pow(t, k.Base) * math.Pow(1-t, k.Tip) }
	var g num.Ring
	for side := range 2 {
		share := 1 + k.Uneven*d.Between(-1, 1)
		bend, wave, phase := k.Uneven*d.Between(-0.4, 0.4), k.Uneven*d.Between(0, 0.5), d.Angle()
		for i := range corners {
			t := (1 - math.Cos(math.Pi*float64(i)/float64(corners))) / 2
			if side == 1 {
				t = 1 - t
			}
			y := width(t) * share * (1 + bend*math.Sin(math.Pi*t) + wave*math.Sin(9*t+phase))
			g = append(g, num.At(t*k.Long, y*float64(1-2*side)))
		}
	}
	return g
}

// lobedContour cuts lobes into a contour from both sides.
type lobedContour struct {
	Contour
	lobes    float64 // pairs along the blade
	deep     float64 // share of the width that the cuts take
	narrow   float64 // share of the width that the lobes next to the base are narrower by
	lean     float64 // mm toward the tip (or the base, below 0) for each mm outward that a lobe leans
	roundish float64 // under 1 broad lobes with narrow cuts, over 1 narrow lobes
	end      float64 // share of the length that the lobe at the tip takes
}

func (k lobedContour) ring(d num.Dice, corners int) num.Ring {
	g := k.Contour.Ring(d, corners)
	stagger := [2]float64{d.Between(-0.15, 0.15), d.Between(-0.15, 0.15)}
	for i, p := range g {
		t := p.X / k.Long
		side := num.SideOf(p.Y)
		down := t / (1 - k.end)
		if down < 1 {
			wave := 0.5 - 0.5*math.Cos(2*math.Pi*(k.lobes*down+stagger[side]*math.Sin(math.Pi*down)))
			keep := 1 - k.deep*(1-math.Pow(wave, k.roundish))
			p.Y *= keep * (1 - k.narrow*(1-down))
		}
		p.X += k.lean * math.Abs(p.Y)
		g[i] = p
	}
	return g
}

// heart returns an outline of Bezier curves with a notch at the base (back over 0) and a tip that may be drawn out.
type heart struct {
	long, wide float64 // mm
	back       float64 // share of the length that the base's lobes reach back
	pointed    float64 // 0 round at the tip, 1 pointed
	notched    float64 // share of the length that the tip is notched
	uneven     float64
}

func (k heart) ring(d num.Dice, corners int) num.Ring {
	var sides [2][]num.Point
	for side := range 2 {
		w := k.wide / 2 * (1 + k.uneven*d.Between(-1, 1)) * float64(1-2*side)
		widest := k.long * d.Between(0.32, 0.45)
		tip := num.At(k.long*(1-k.notched), 0)
		round := num.Mix(0.62, 0.1, k.pointed)
		sides[side] = append(
			num.Bezier(num.Point{}, num.At(-1.35*k.back*k.long, 0.25*w), num.At(widest-0.45*k.long-k.back*k.long, w), num.At(widest, w), corners/2),
			num.Bezier(num.At(widest, w), num.At(widest+0.38*k.long, w), num.At(k.long*(1+0.25*k.notched), w*round), tip, corners/2)...)
	}
	g := num.Ring(sides[0])
	g = append(g, num.At(k.long*(1-k.notched), 0))
	for i := len(sides[1]) - 1; i > 0; i-- {
		g = append(g, sides[1][i])
	}
	return g
}

// Hand is an outline in polar form, its lobes like fingers from where the stalk joins.
type Hand struct {
	Long   float64 // mm to the tip of the middle lobe
	Lobes  int     // odd
	Spread float64 // radians from one lobe to the next
	Deep   float64 // share of a lobe that the cut beside it takes
	shrink float64 // how much shorter each next lobe is
	Blunt  float64 // under 1 blunt lobes, over 1 pointed
}

func (k Hand) Ring(d num.Dice, corners int) num.Ring {
	half := k.Lobes / 2
	lengths, ways := make([]float64, k.Lobes), make([]float64, k.Lobes)
	for i := range k.Lobes {
		out := math.Abs(float64(i - half))
		lengths[i] = k.Long * math.Pow(1-k.shrink, out) * d.Around(1, 0.03)
		ways[i] = float64(i-half)*k.Spread + d.Around(0, 0.04)
	}
	last := (float64(half) + 0.5) * k.Spread
	return num.Rounded(num.Point{}, corners*2, func(a float64) float64 {
		if a > math.Pi {
			a -= 2 * math.Pi
		}
		return max(0.03*k.Long, k.radius(a, last, lengths, ways))
	})
}

func (k Hand) radius(a, last float64, lengths, ways []float64) float64 {
	r := 0.0
	for i, way := range ways {
		off := math.Abs(a-way) / (k.Spread / 2)
		if off < 1.6 {
			r = max(r, lengths[i]*(1-k.Deep*math.Pow(off, k.Blunt)))
		}
	}
	if out := math.Abs(a) - last; out > 0 {
		r = max(r, lengths[0]*(1-k.Deep)) * max(0, 1-out/(math.Pi-last+0.2))
	}
	return r
}

// edging is what runs along an outline.
type edging struct {
	teeth   float64 // mm from tooth to tooth, 0 for none
	tooth   float64 // mm that a tooth stands out
	saw     float64 // 0 for round teeth, 1 for teeth like a saw's
	frill   float64 // mm that the edge waves in and out
	frilled float64 // mm from wave to wave
}

// along returns a ring with teeth and frills, which grow from the base, and the corners that they need.
func (e edging) along(d num.Dice, g num.Ring) num.Ring {
	if e.teeth == 0 && e.frill == 0 {
		return g
	}
	step := 0.6
	if e.teeth > 0 {
		step = min(step, e.teeth/6)
	}
	if e.frill > 0 {
		step = min(step, e.frilled/10)
	}
	g = g.Facing(false).Evenly(step)
	_, hi := g.Bounds()
	out := make(num.Ring, len(g))
	phases := [4]float64{d.Angle(), d.Angle(), d.Angle(), d.Angle()}
	g.Around(func(i int, along float64, outward num.Point) {
		grown := num.Ease(0, 0.25*hi.X, g[i].X)
		out[i] = g[i].Plus(outward.Times(grown * e.offset(along/2, phases)))
	})
	return out
}

func (e edging) offset(along float64, phases [4]float64) float64 {
	v := 0.0
	if e.teeth > 0 {
		at := along / e.teeth
		at -= math.Floor(at)
		v += e.tooth * num.Mix(math.Sin(math.Pi*at), at, e.saw)
	}
	if e.frill > 0 {
		w := 2 * math.Pi * along / e.frilled
		v += e.frill * (math.Sin(w+phases[0]) + 0.7*math.Sin(1.73*w+phases[1]+math.Sin(0.31*w+phases[2])) + 0.5*math.Sin(3.1*w+phases[3]))
	}
	return v
}
