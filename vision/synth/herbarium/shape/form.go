package shape

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Former draws a blade of a form; long is in mm. What it does not draw anew for each blade belongs to the crop.
type Former func(d num.Dice, long float64) *Blade

// veinPlan is how a crop's blades are veined, by shares of their length.
type veinPlan struct {
	kind        Veining
	pairs       float64
	slant, bend float64
	mid, fine   float64 // half widths of midrib and side veins in mm for a blade 40 mm long
	opposite    bool
	wiggle      float64
	rays        []float64 // radians
}

func veinPlanOf(d num.Dice, kind Veining) veinPlan {
	return veinPlan{
		kind: kind, pairs: d.Between(4, 9), slant: d.Between(0.4, 1.5), bend: d.Between(-0.1, 0.8), mid: d.Wide(0.2, 0.8),
		fine: d.Wide(0.04, 0.16), opposite: d.Chance(0.4), wiggle: d.Between(0.05, 0.3),
	}
}

// on returns the veins of a blade of the given length in mm.
func (k veinPlan) on(d num.Dice, long float64) Veins {
	size := math.Sqrt(long / 40)
	v := Veins{
		Kind: k.kind, Apart: long / k.pairs * d.Between(0.9, 1.1), slant: k.slant, bend: k.bend / long * 2, Mid: k.mid * size, Fine: k.fine * size,
		wiggle: k.wiggle,
	}
	if !k.opposite {
		v.offset = d.Between(0.3, 0.6)
	}
	for _, a := range k.rays {
		v.rays = append(v.rays, num.Heading(a+d.Around(0, 0.04)))
	}
	return v
}

// edgingOf draws an edging by the blade's typical length in mm; most edges are plain.
func edgingOf(d num.Dice, long, toothed, frilled float64) edging {
	var e edging
	if d.Chance(toothed) {
		e.teeth = d.Wide(0.03, 0.14) * long
		e.tooth, e.saw = e.teeth*d.Between(0.12, 0.5), d.Between(0, 1)
	}
	if d.Chance(frilled) {
		e.frilled = d.Wide(0.06, 0.25) * long
		e.frill = e.frilled * d.Between(0.04, 0.16)
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

// SimpleForm draws blades from a contour: wide is the width's share of the length.
func SimpleForm(d num.Dice, wide, base, tip, toothed, frilled float64) Former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, toothed, frilled)
	uneven := d.Between(0.02, 0.12)
	return func(d num.Dice, long float64) *Blade {
		k := Contour{long, long * wide * d.Around(1, 0.08), base * d.Around(1, 0.06), tip * d.Around(1, 0.06), uneven}
		return BladeOf(e.scaledTo(long).along(d, k.Ring(d, 26)), plan.on(d, long))
	}
}

// OvateForm draws ovals, from slender to broad.
func OvateForm(d num.Dice) Former {
	return SimpleForm(d, d.Between(0.38, 0.78), d.Between(0.4, 0.75), d.Between(0.5, 1.1), 0.35, 0.12)
}

// SpoonForm draws blades that run down into their stalk.
func SpoonForm(d num.Dice) Former {
	return SimpleForm(d, d.Between(0.35, 0.75), d.Between(0.9, 2), d.Between(0.35, 0.55), 0.2, 0.25)
}

// LanceForm draws narrow, pointed blades.
func LanceForm(d num.Dice) Former {
	return SimpleForm(d, d.Between(0.12, 0.34), d.Between(0.5, 1), d.Between(0.6, 1.2), 0.3, 0.05)
}

// NeedleForm draws needles.
func NeedleForm(d num.Dice) Former {
	plan := veinPlanOf(d, Unveined)
	wide := d.Between(0.05, 0.12)
	return func(d num.Dice, long float64) *Blade {
		k := Contour{long, max(0.5, long*wide*d.Around(1, 0.1)), 0.3, 0.4, 0.05}
		return BladeOf(k.Ring(d, 12), plan.on(d, long))
	}
}

// SucculentForm draws thick blades without veins to be seen.
func SucculentForm(d num.Dice) Former {
	plan := veinPlanOf(d, Unveined)
	wide, base, tip := d.Between(0.35, 0.8), d.Between(0.4, 1.3), d.Between(0.35, 0.6)
	return func(d num.Dice, long float64) *Blade {
		k := Contour{long, long * wide * d.Around(1, 0.06), base, tip, 0.04}
		return BladeOf(k.Ring(d, 22), plan.on(d, long))
	}
}

// HeartForm draws hearts, kidneys and round blades.
func HeartForm(d num.Dice) Former {
	plan := veinPlanOf(d, pinnate)
	if d.Chance(0.6) {
		plan = fanPlan(d, 5+2*d.IntN(2), d.Between(0.5, 0.75))
	}
	e := edgingOf(d, 1, 0.4, 0.15)
	k := heart{wide: d.Between(0.75, 1.3), back: d.Between(0.02, 0.28), pointed: d.Between(0, 1), uneven: d.Between(0.02, 0.1)}
	if d.Chance(0.35) {
		k.pointed, k.wide = d.Between(0, 0.2), d.Between(0.95, 1.35)
	}
	return func(d num.Dice, long float64) *Blade {
		k := k
		k.long, k.wide = long, long*k.wide*d.Around(1, 0.06)
		return BladeOf(e.scaledTo(long).along(d, k.ring(d, 30)), plan.on(d, long))
	}
}

func fanPlan(d num.Dice, rays int, spread float64) veinPlan {
	plan := veinPlanOf(d, palmate)
	plan.pairs = d.Between(5, 9)
	for i := range rays {
		plan.rays = append(plan.rays, float64(i-rays/2)*spread)
	}
	return plan
}

// LobedForm draws blades cut into lobes from both sides.
func LobedForm(d num.Dice) Former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, 0.4, 0.15)
	k := lobedContour{
		Contour: Contour{Wide: d.Between(0.3, 0.62), Base: d.Between(0.5, 1.3), Tip: d.Between(0.4, 0.9), Uneven: d.Between(0.03, 0.14)},
		lobes:   math.Floor(d.Between(2, 6)), deep: d.Between(0.25, 0.88), narrow: d.Between(0, 0.6), lean: d.Between(-0.25, 0.5),
		roundish: d.Wide(0.4, 1.6), end: d.Between(0.1, 0.5),
	}
	plan.pairs = k.lobes / (1 - k.end)
	plan.slant = max(0.1, k.lean+d.Between(0, 0.5))
	return func(d num.Dice, long float64) *Blade {
		k := k
		k.Long, k.Wide = long, long*k.Wide*d.Around(1, 0.08)
		k.deep = num.Clamp(k.deep*d.Around(1, 0.12), 0.1, 0.92)
		return BladeOf(e.scaledTo(long).along(d, k.ring(d, 70)), plan.on(d, long))
	}
}

// HandForm draws blades with lobes like fingers.
func HandForm(d num.Dice) Former {
	k := Hand{Lobes: 3 + 2*d.Pick(0.35, 0.45, 0.2), Deep: d.Between(0.12, 0.65), shrink: d.Between(0, 0.25), Blunt: d.Wide(0.6, 2.4)}
	k.Spread = d.Between(0.62, 1.05) * 4.6 / float64(k.Lobes)
	plan, e := fanPlan(d, k.Lobes, k.Spread), edgingOf(d, 1, 0.6, 0.1)
	return func(d num.Dice, long float64) *Blade {
		k := k
		k.Long = long
		return BladeOf(e.scaledTo(long).along(d, k.Ring(d, 80)), plan.on(d, long))
	}
}

// CabbageForm draws broad, blunt blades with thick ribs and wavy edges.
func CabbageForm(d num.Dice) Former {
	plan, e := veinPlanOf(d, pinnate), edgingOf(d, 1, 0.3, 0.6)
	plan.mid, plan.fine, plan.slant = d.Between(0.7, 1.6), d.Between(0.15, 0.4), d.Between(0.8, 1.6)
	wide := d.Between(0.75, 1.15)
	base, tip := d.Between(0.45, 0.9), d.Between(0.28, 0.45)
	return func(d num.Dice, long float64) *Blade {
		k := Contour{long, long * wide * d.Around(1, 0.07), base, tip, 0.08}
		return BladeOf(e.scaledTo(long).along(d, k.Ring(d, 34)), plan.on(d, long))
	}
}

// Strap returns a blade of even width that runs out in a tip, in mm.
func Strap(long, wide, tip float64, v Veins) *Blade {
	const corners = 28
	var g num.Ring
	for i := range 2 * corners {
		t := float64(i%corners) / (corners - 1)
		if i >= corners {
			t = 1 - t
		}
		y := wide / 2 * min(1, 0.75+2*t) * math.Sqrt(1-math.Pow(max(0, (t-(1-tip))/tip), 2)+1e-4)
		if i >= corners {
			y = -y
		}
		g = append(g, num.At(t*long, y))
	}
	return BladeOf(g, v)
}

// Stalk returns a blade that is a stalk, its ends round, from the base's width to that at the end, in mm.
func Stalk(long, base, end float64) *Blade {
	var g num.Ring
	round := func(x, wide, from float64) {
		for k := range 7 {
			a := from + math.Pi*float64(k)/6
			g = append(g, num.At(x+wide/2*math.Cos(a), wide/2*math.Sin(a)))
		}
	}
	round(long, end, -math.Pi/2)
	g = append(g, num.At(long*0.3, num.Mix(base, end, 0.5)/2))
	round(0, base, math.Pi/2)
	g = append(g, num.At(long*0.3, -num.Mix(base, end, 0.5)/2))
	return BladeOf(g, Veins{Kind: Unveined})
}

// SeedForm draws seed leaves.
func SeedForm(d num.Dice) Former {
	plan := veinPlanOf(d, Unveined)
	plan.mid *= 0.7
	switch d.Pick(0.4, 0.35, 0.25) {
	case 0: // oval
		wide, base, tip := d.Between(0.4, 0.85), d.Between(0.4, 0.7), d.Between(0.35, 0.6)
		return func(d num.Dice, long float64) *Blade {
			return BladeOf(Contour{long, long * wide, base, tip, 0.06}.Ring(d, 18), plan.on(d, long))
		}
	case 1: // kidney with a notch
		k := heart{wide: d.Between(1, 1.5), back: d.Between(0, 0.15), notched: d.Between(0.05, 0.3), uneven: 0.06}
		return func(d num.Dice, long float64) *Blade {
			k := k
			k.long, k.wide = long, k.wide*long
			return BladeOf(k.ring(d, 24), plan.on(d, long))
		}
	default: // strap
		wide := d.Between(0.12, 0.28)
		return func(d num.Dice, long float64) *Blade { return Strap(long*1.5, long*1.5*wide, 0.35, plan.on(d, long)) }
	}
}

// Threads adds a thread and, to the given depth, those that branch off from it.
func (b *Blade) Threads(d num.Dice, from num.Point, way, long, wide float64, depth int) {
	dir := num.Heading(way)
	at := func(s, y float64) num.Point { return from.Plus(dir.Times(s)).Plus(dir.Left().Times(y)) }
	b.Rings = append(b.Rings, num.Ring{at(0, wide/2), at(0, -wide/2), at(long*0.7, -wide*0.4), at(long, 0), at(long*0.7, wide*0.4)}.Facing(false))
	if depth == 0 || long < 2 {
		return
	}
	for k := range 3 {
		t := 0.3 + 0.25*float64(k)
		for _, side := range [2]float64{-1, 1} {
			b.Threads(d, at(t*long, 0), way+side*d.Around(0.7, 0.1), long*0.42*(1.1-t)*d.Around(1, 0.15), wide*0.85, depth-1)
		}
	}
}
