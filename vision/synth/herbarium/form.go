package herbarium

import "math"

// former draws a blade of a form; long is in mm. What it does not draw anew for each blade belongs to the crop.
type former func(d dice, long float64) *blade

// veinPlan is how a crop's blades are veined, by shares of their length.
type veinPlan struct {
	kind        veining
	pairs       float64
	slant, bend float64
	mid, fine   float64 // half widths of midrib and side veins in mm for a blade 40 mm long
	opposite    bool
	wiggle      float64
	rays        []float64 // radians
}

func veinPlanOf(d dice, kind veining) veinPlan {
	return veinPlan{
		kind: kind, pairs: d.between(4, 9), slant: d.between(0.4, 1.5), bend: d.between(-0.1, 0.8), mid: d.wide(0.2, 0.8),
		fine: d.wide(0.04, 0.16), opposite: d.chance(0.4), wiggle: d.between(0.05, 0.3),
	}
}

// on returns the veins of a blade of the given length in mm.
func (k veinPlan) on(d dice, long float64) veins {
	size := math.Sqrt(long / 40)
	v := veins{
		kind: k.kind, apart: long / k.pairs * d.between(0.9, 1.1), slant: k.slant, bend: k.bend / long * 2, mid: k.mid * size, fine: k.fine * size,
		wiggle: k.wiggle,
	}
	if !k.opposite {
		v.offset = d.between(0.3, 0.6)
	}
	for _, a := range k.rays {
		v.rays = append(v.rays, heading(a+d.around(0, 0.04)))
	}
	return v
}

// edgingOf draws an edging by the blade's typical length in mm; most edges are plain.
func edgingOf(d dice, long, toothed, frilled float64) edging {
	var e edging
	if d.chance(toothed) {
		e.teeth = d.wide(0.03, 0.14) * long
		e.tooth, e.saw = e.teeth*d.between(0.12, 0.5), d.between(0, 1)
	}
	if d.chance(frilled) {
		e.frilled = d.wide(0.06, 0.25) * long
		e.frill = e.frilled * d.between(0.04, 0.16)
	}
	return e
}

// scaledTo returns the edging for a blade whose length is the given share of the typical one. What would not show is left away.
func (e edging) scaledTo(share float64) edging {
	const least = 0.08 // mm: half a texel
	e.teeth, e.tooth, e.frill, e.frilled = e.teeth*share, e.tooth*share, e.frill*share, e.frilled*share
	if e.tooth < least {
		e.teeth = 0
	}
	if e.frill < least {
		e.frill = 0
	}
	return e
}

// simpleForm draws blades from a contour: wide is the width's share of the length.
func simpleForm(d dice, wide, base, tip, toothed, frilled float64) former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, toothed, frilled)
	uneven := d.between(0.02, 0.12)
	return func(d dice, long float64) *blade {
		k := contour{long, long * wide * d.around(1, 0.08), base * d.around(1, 0.06), tip * d.around(1, 0.06), uneven}
		return bladeOf(e.scaledTo(long).along(d, k.ring(d, 26)), plan.on(d, long))
	}
}

func ovateForm(d dice) former {
	return simpleForm(d, d.between(0.38, 0.78), d.between(0.4, 0.75), d.between(0.5, 1.1), 0.35, 0.12)
}

func spoonForm(d dice) former {
	return simpleForm(d, d.between(0.35, 0.75), d.between(0.9, 2), d.between(0.35, 0.55), 0.2, 0.25)
}

func lanceForm(d dice) former {
	return simpleForm(d, d.between(0.12, 0.34), d.between(0.5, 1), d.between(0.6, 1.2), 0.3, 0.05)
}

func needleForm(d dice) former {
	plan := veinPlanOf(d, unveined)
	wide := d.between(0.05, 0.12)
	return func(d dice, long float64) *blade {
		k := contour{long, max(0.5, long*wide*d.around(1, 0.1)), 0.3, 0.4, 0.05}
		return bladeOf(k.ring(d, 12), plan.on(d, long))
	}
}

func succulentForm(d dice) former {
	plan := veinPlanOf(d, unveined)
	wide, base, tip := d.between(0.35, 0.8), d.between(0.4, 1.3), d.between(0.35, 0.6)
	return func(d dice, long float64) *blade {
		k := contour{long, long * wide * d.around(1, 0.06), base, tip, 0.04}
		return bladeOf(k.ring(d, 22), plan.on(d, long))
	}
}

// heartForm draws hearts, kidneys and round blades.
func heartForm(d dice) former {
	plan := veinPlanOf(d, pinnate)
	if d.chance(0.6) {
		plan = fanPlan(d, 5+2*d.IntN(2), d.between(0.5, 0.75))
	}
	e := edgingOf(d, 1, 0.4, 0.15)
	k := heart{wide: d.between(0.75, 1.3), back: d.between(0.02, 0.28), pointed: d.between(0, 1), uneven: d.between(0.02, 0.1)}
	if d.chance(0.35) {
		k.pointed, k.wide = d.between(0, 0.2), d.between(0.95, 1.35)
	}
	return func(d dice, long float64) *blade {
		k := k
		k.long, k.wide = long, long*k.wide*d.around(1, 0.06)
		return bladeOf(e.scaledTo(long).along(d, k.ring(d, 30)), plan.on(d, long))
	}
}

func fanPlan(d dice, rays int, spread float64) veinPlan {
	plan := veinPlanOf(d, palmate)
	plan.pairs = d.between(5, 9)
	for i := range rays {
		plan.rays = append(plan.rays, float64(i-rays/2)*spread)
	}
	return plan
}

func lobedForm(d dice) former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, 0.4, 0.15)
	k := lobedContour{
		contour: contour{wide: d.between(0.3, 0.62), base: d.between(0.5, 1.3), tip: d.between(0.4, 0.9), uneven: d.between(0.03, 0.14)},
		lobes:   math.Floor(d.between(2, 6)), deep: d.between(0.25, 0.88), narrow: d.between(0, 0.6), lean: d.between(-0.25, 0.5),
		roundish: d.wide(0.4, 1.6), end: d.between(0.1, 0.5),
	}
	plan.pairs = k.lobes / (1 - k.end)
	plan.slant = max(0.1, k.lean+d.between(0, 0.5))
	return func(d dice, long float64) *blade {
		k := k
		k.long, k.wide = long, long*k.wide*d.around(1, 0.08)
		k.deep = clamp(k.deep*d.around(1, 0.12), 0.1, 0.92)
		return bladeOf(e.scaledTo(long).along(d, k.ring(d, 70)), plan.on(d, long))
	}
}

func handForm(d dice) former {
	k := hand{lobes: 3 + 2*d.pick(0.35, 0.45, 0.2), deep: d.between(0.12, 0.65), shrink: d.between(0, 0.25), blunt: d.wide(0.6, 2.4)}
	k.spread = d.between(0.62, 1.05) * 4.6 / float64(k.lobes)
	plan, e := fanPlan(d, k.lobes, k.spread), edgingOf(d, 1, 0.6, 0.1)
	return func(d dice, long float64) *blade {
		k := k
		k.long = long
		return bladeOf(e.scaledTo(long).along(d, k.ring(d, 80)), plan.on(d, long))
	}
}

func cabbageForm(d dice) former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, 0.3, 0.6)
	plan.mid, plan.fine, plan.slant = d.between(0.7, 1.6), d.between(0.15, 0.4), d.between(0.8, 1.6)
	wide := d.between(0.75, 1.15)
	base, tip := d.between(0.45, 0.9), d.between(0.28, 0.45)
	return func(d dice, long float64) *blade {
		k := contour{long, long * wide * d.around(1, 0.07), base, tip, 0.08}
		return bladeOf(e.scaledTo(long).along(d, k.ring(d, 34)), plan.on(d, long))
	}
}

// strap returns a blade of even width that runs out in a tip, in mm.
func strap(long, wide, tip float64, v veins) *blade {
	const corners = 28
	var g ring
	for i := range 2 * corners {
		t := float64(i%corners) / (corners - 1)
		if i >= corners {
			t = 1 - t
		}
		y := wide / 2 * min(1, 0.75+2*t) * math.Sqrt(1-math.Pow(max(0, (t-(1-tip))/tip), 2)+1e-4)
		if i >= corners {
			y = -y
		}
		g = append(g, point{t * long, y})
	}
	return bladeOf(g, v)
}

// stalk returns a blade that is a stalk, its ends round, from the base's width to that at the end, in mm.
func stalk(long, base, end float64) *blade {
	var g ring
	round := func(x, wide, from float64) {
		for k := range 7 {
			a := from + math.Pi*float64(k)/6
			g = append(g, point{x + wide/2*math.Cos(a), wide / 2 * math.Sin(a)})
		}
	}
	round(long, end, -math.Pi/2)
	g = append(g, point{long * 0.3, mix(base, end, 0.5) / 2})
	round(0, base, math.Pi/2)
	g = append(g, point{long * 0.3, -mix(base, end, 0.5) / 2})
	return bladeOf(g, veins{kind: unveined})
}

// seedForm draws seed leaves.
func seedForm(d dice) former {
	plan := veinPlanOf(d, unveined)
	plan.mid *= 0.7
	switch d.pick(0.4, 0.35, 0.25) {
	case 0: // oval
		wide, base, tip := d.between(0.4, 0.85), d.between(0.4, 0.7), d.between(0.35, 0.6)
		return func(d dice, long float64) *blade {
			return bladeOf(contour{long, long * wide, base, tip, 0.06}.ring(d, 18), plan.on(d, long))
		}
	case 1: // kidney with a notch
		k := heart{wide: d.between(1, 1.5), back: d.between(0, 0.15), notched: d.between(0.05, 0.3), uneven: 0.06}
		return func(d dice, long float64) *blade {
			k := k
			k.long, k.wide = long, k.wide*long
			return bladeOf(k.ring(d, 24), plan.on(d, long))
		}
	default: // strap
		wide := d.between(0.12, 0.28)
		return func(d dice, long float64) *blade { return strap(long*1.5, long*1.5*wide, 0.35, plan.on(d, long)) }
	}
}
