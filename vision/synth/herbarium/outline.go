package herbarium

import "math"

// contour says how a blade's width goes along its midrib. Both sides are drawn from it, a little unlike each other.
type contour struct {
	long, wide float64 // mm
	base, tip  float64 // how the width grows from the base and shrinks to the tip: 0.4 blunt, 1 straight, 2 drawn out
	uneven     float64 // share by which the sides differ
}

// ring returns the outline. Its corners lie closest at both ends.
func (k contour) ring(d dice, corners int) ring {
	peak := math.Pow(k.base/(k.base+k.tip), k.base) * math.Pow(k.tip/(k.base+k.tip), k.tip)
	width := func(t float64) float64 { return k.wide / 2 / peak * math.Pow(t, k.base) * math.Pow(1-t, k.tip) }
	var g ring
	for side := range 2 {
		share := 1 + k.uneven*d.between(-1, 1)
		bend, wave, phase := k.uneven*d.between(-0.4, 0.4), k.uneven*d.between(0, 0.5), d.angle()
		for i := range corners {
			t := (1 - math.Cos(math.Pi*float64(i)/float64(corners))) / 2
			if side == 1 {
				t = 1 - t
			}
			y := width(t) * share * (1 + bend*math.Sin(math.Pi*t) + wave*math.Sin(9*t+phase))
			g = append(g, point{t * k.long, y * float64(1-2*side)})
		}
	}
	return g
}

// lobedContour cuts lobes into a contour from both sides.
type lobedContour struct {
	contour
	lobes    float64 // pairs along the blade
	deep     float64 // share of the width that the cuts take
	narrow   float64 // share of the width that the lobes next to the base are narrower by
	lean     float64 // mm toward the tip (or the base, below 0) for each mm outward that a lobe leans
	roundish float64 // under 1 broad lobes with narrow cuts, over 1 narrow lobes
	end      float64 // share of the length that the lobe at the tip takes
}

func (k lobedContour) ring(d dice, corners int) ring {
	g := k.contour.ring(d, corners)
	stagger := [2]float64{d.between(-0.15, 0.15), d.between(-0.15, 0.15)}
	for i, p := range g {
		t := p.x / k.long
		side := sideOf(p.y)
		down := t / (1 - k.end)
		if down < 1 {
			wave := 0.5 - 0.5*math.Cos(2*math.Pi*(k.lobes*down+stagger[side]*math.Sin(math.Pi*down)))
			keep := 1 - k.deep*(1-math.Pow(wave, k.roundish))
			p.y *= keep * (1 - k.narrow*(1-down))
		}
		p.x += k.lean * math.Abs(p.y)
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

func (k heart) ring(d dice, corners int) ring {
	var sides [2][]point
	for side := range 2 {
		w := k.wide / 2 * (1 + k.uneven*d.between(-1, 1)) * float64(1-2*side)
		widest := k.long * d.between(0.32, 0.45)
		tip := point{k.long * (1 - k.notched), 0}
		round := mix(0.62, 0.1, k.pointed)
		sides[side] = append(
			bezier(point{}, point{-1.35 * k.back * k.long, 0.25 * w}, point{widest - 0.45*k.long - k.back*k.long, w}, point{widest, w}, corners/2),
			bezier(point{widest, w}, point{widest + 0.38*k.long, w}, point{k.long * (1 + 0.25*k.notched), w * round}, tip, corners/2)...)
	}
	g := ring(sides[0])
	g = append(g, point{k.long * (1 - k.notched), 0})
	for i := len(sides[1]) - 1; i > 0; i-- {
		g = append(g, sides[1][i])
	}
	return g
}

// hand is an outline in polar form, its lobes like fingers from where the stalk joins.
type hand struct {
	long   float64 // mm to the tip of the middle lobe
	lobes  int     // odd
	spread float64 // radians from one lobe to the next
	deep   float64 // share of a lobe that the cut beside it takes
	shrink float64 // how much shorter each next lobe is
	blunt  float64 // under 1 blunt lobes, over 1 pointed
}

func (k hand) ring(d dice, corners int) ring {
	half := k.lobes / 2
	lengths, ways := make([]float64, k.lobes), make([]float64, k.lobes)
	for i := range k.lobes {
		out := math.Abs(float64(i - half))
		lengths[i] = k.long * math.Pow(1-k.shrink, out) * d.around(1, 0.03)
		ways[i] = float64(i-half)*k.spread + d.around(0, 0.04)
	}
	last := (float64(half) + 0.5) * k.spread
	return rounded(point{}, corners*2, func(a float64) float64 {
		if a > math.Pi {
			a -= 2 * math.Pi
		}
		return max(0.03*k.long, k.radius(a, last, lengths, ways))
	})
}

func (k hand) radius(a, last float64, lengths, ways []float64) float64 {
	r := 0.0
	for i, way := range ways {
		off := math.Abs(a-way) / (k.spread / 2)
		if off < 1.6 {
			r = max(r, lengths[i]*(1-k.deep*math.Pow(off, k.blunt)))
		}
	}
	if out := math.Abs(a) - last; out > 0 {
		r = max(r, lengths[0]*(1-k.deep)) * max(0, 1-out/(math.Pi-last+0.2))
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
func (e edging) along(d dice, g ring) ring {
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
	g = g.facing(false).evenly(step)
	_, hi := g.bounds()
	out := make(ring, len(g))
	phases := [4]float64{d.angle(), d.angle(), d.angle(), d.angle()}
	g.around(func(i int, along float64, outward point) {
		grown := ease(0, 0.25*hi.x, g[i].x)
		out[i] = g[i].plus(outward.times(grown * e.offset(along/2, phases)))
	})
	return out
}

func (e edging) offset(along float64, phases [4]float64) float64 {
	v := 0.0
	if e.teeth > 0 {
		at := along / e.teeth
		at -= math.Floor(at)
		v += e.tooth * mix(math.Sin(math.Pi*at), at, e.saw)
	}
	if e.frill > 0 {
		w := 2 * math.Pi * along / e.frilled
		v += e.frill * (math.Sin(w+phases[0]) + 0.7*math.Sin(1.73*w+phases[1]+math.Sin(0.31*w+phases[2])) + 0.5*math.Sin(3.1*w+phases[3]))
	}
	return v
}
