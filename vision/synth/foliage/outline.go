package foliage

import "math"

// outline is the shape of a flat blade 1 long with its midrib on the x axis, one half of it; the other half is its mirror image.
// The edge is followed from the base (u = 0) to the tip (u = 1). Each of its points is joined to a point of the midrib, along
// which side veins run.
type outline struct {
	wide      float64 // greatest half-width
	base, tip float64 // how the width grows from base and tip: 0 at once, 0.5 round, 1 straight, above hollow
	back      float64 // how far the blade reaches back beside its stalk
	notch     float64 // how far it reaches on beside its tip
	lean      float64 // how far side veins run forward for each unit that they run out
	lobes     int     // on each side
	cut       float64 // how deep the bays between lobes are, of the way to the midrib
	fewer     float64 // the same, less towards the tip; 0 alike, 1 none at the tip
	teeth     int     // on each side
	bite      float64 // depth of the teeth, of the way to the midrib
	saw       float64 // 0 for round teeth, 1 for teeth that point to the tip
	uneven    float64 // irregularity of lobes and teeth, 0 to 1
	irregular float64 // where the irregularity's noise begins
	most      float64 // see measured
}

// margin is a point of the edge: its u, where it is, and the place on the midrib that it is joined to.
type margin struct{ u, x, y, rib float64 }

// edge returns the point of the edge at u.
func (o *outline) edge(u float64) margin {
	x := (1 - math.Cos(math.Pi*u)) / 2
	y := o.wide * o.width(x)
	if o.back > 0 && u < 0.5 {
		x -= o.back * 16 * u * (0.5 - u) * (1 - u)
	}
	if o.notch > 0 && u > 0.6 {
		x += o.notch * 25 * (u - 0.6) * (1 - u)
	}
	rib := clamp(x-o.lean*y, 0, 1)
	k := 1 - o.inset(u)
	return margin{u, rib + (x-rib)*k, y * k, rib}
}

// width is the half-width at x, of the greatest.
func (o *outline) width(x float64) float64 {
	return power(x, o.base) * power(1-x, o.tip) / o.most
}

// measured returns the outline with its greatest width worked out, which edge needs.
func (o outline) measured() outline {
	top := 0.5
	if o.base+o.tip > 0 {
		top = o.base / (o.base + o.tip)
	}
	o.most = power(top, o.base) * power(1-top, o.tip)
	return o
}

// power is math.Pow for 0 <= x <= 1, quick where it can be.
func power(x, p float64) float64 {
	switch {
	case p == 0:
		return 1
	case p == 0.5:
		return math.Sqrt(x)
	case x <= 0:
		return 0
	}
	return math.Pow(x, p)
}

// inset is how far the edge lies inside the smooth one at u, of the way to the midrib.
func (o *outline) inset(u float64) float64 {
	wobble := 0.0
	if o.uneven > 0 {
		wobble = 0.35 * o.uneven * tiles().cloud.at(o.irregular+60*u, 7.5)
	}
	in := 0.0
	if o.lobes > 0 {
		at := u*float64(o.lobes) + 0.25*wobble
		bay := 0.5 + 0.5*math.Cos(2*math.Pi*at)
		in = o.cut * (1 - o.fewer*u) * bay * bay * clamp(1+wobble, 0.3, 1.4)
	}
	if o.teeth > 0 {
		at := u*float64(o.teeth) + 0.4*wobble
		at -= math.Floor(at)
		round := math.Sqrt(max(0, 1-4*(at-0.5)*(at-0.5)))
		in += o.bite * (1 - mixed(round, at, o.saw)) * clamp(1+wobble, 0.2, 1.6)
	}
	return clamp(in, 0, 0.94) * min(1, 12*u, 12*(1-u))
}
