package shape

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Outline is the shape of a flat blade 1 long with its midrib on the x axis, one half of it; the other half is its mirror image.
// The edge is followed from the base (u = 0) to the tip (u = 1). Each of its points is joined to a point of the midrib, along
// which side veins run.
type Outline struct {
	Wide      float64 // greatest half-width
	Base, Tip float64 // how the width grows from base and tip: 0 at once, 0.5 round, 1 straight, above hollow
	Back      float64 // how far the blade reaches back beside its stalk
	Notch     float64 // how far it reaches on beside its tip
	Lean      float64 // how far side veins run forward for each unit that they run out
	Lobes     int     // on each side
	Cut       float64 // how deep the bays between lobes are, of the way to the midrib
	Fewer     float64 // the same, less towards the tip; 0 alike, 1 none at the tip
	Teeth     int     // on each side
	Bite      float64 // depth of the teeth, of the way to the midrib
	Saw       float64 // 0 for round teeth, 1 for teeth that point to the tip
	Uneven    float64 // irregularity of lobes and teeth, 0 to 1
	Irregular float64 // where the irregularity's noise begins
	most      float64 // see measured
}

// margin is a point of the edge: its u, where it is, and the place on the midrib that it is joined to.
type margin struct{ u, x, y, rib float64 }

// edge returns the point of the edge at u.
func (o *Outline) edge(u float64) margin {
	x := (1 - math.Cos(math.Pi*u)) / 2
	y := o.Wide * o.width(x)
	if o.Back > 0 && u < 0.5 {
		x -= o.Back * 16 * u * (0.5 - u) * (1 - u)
	}
	if o.Notch > 0 && u > 0.6 {
		x += o.Notch * 25 * (u - 0.6) * (1 - u)
	}
	rib := num.Clamp(x-o.Lean*y, 0, 1)
	k := 1 - o.inset(u)
	return margin{u, rib + (x-rib)*k, y * k, rib}
}

// width is the half-width at x, of the greatest.
func (o *Outline) width(x float64) float64 {
	return power(x, o.Base) * power(1-x, o.Tip) / o.most
}

// measured returns the outline with its greatest width worked out, which edge needs.
func (o Outline) measured() Outline {
	top := 0.5
	if o.Base+o.Tip > 0 {
		top = o.Base / (o.Base + o.Tip)
	}
	o.most = power(top, o.Base) * power(1-top, o.Tip)
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
func (o *Outline) inset(u float64) float64 {
	wobble := 0.0
	if o.Uneven > 0 {
		wobble = 0.35 * o.Uneven * num.Tiles().Cloud.At(o.Irregular+60*u, 7.5)
	}
	in := 0.0
	if o.Lobes > 0 {
		at := u*float64(o.Lobes) + 0.25*wobble
		bay := 0.5 + 0.5*math.Cos(2*math.Pi*at)
		in = o.Cut * (1 - o.Fewer*u) * bay * bay * num.Clamp(1+wobble, 0.3, 1.4)
	}
	if o.Teeth > 0 {
		at := u*float64(o.Teeth) + 0.4*wobble
		at -= math.Floor(at)
		round := math.Sqrt(max(0, 1-4*(at-0.5)*(at-0.5)))
		in += o.Bite * (1 - num.Mixed(round, at, o.Saw)) * num.Clamp(1+wobble, 0.2, 1.6)
	}
	return num.Clamp(in, 0, 0.94) * min(1, 12*u, 12*(1-u))
}
