// Package axis puts ratios and differences on an axis.
//
//	in    the comparisons in one chart
//	out   positions as shares of the axis width, and labels
//
// It must not depend on whether a page or a picture is drawn, or in which colours.
package axis

import (
	"math"
	"slices"
	"strconv"

	"traygauge/measure/compare/outcome"
)

// Tick is a labelled place on an axis.
type Tick struct {
	At, Label string
	Value     float64
}

// Axis turns a ratio or a difference into a place. Ratios go on a logarithmic axis, where twice as much and half as much are equally far
// from none.
type Axis struct {
	None       float64 // where no difference is
	Ticks      []Tick
	log, drawn bool
	low, high  float64
}

// The ends beyond which an interval is cut and marked with an arrow; a ratio known no better than to a factor of 30 is not known.
const (
	leastRatio = 1.0 / 30
	mostRatio  = 30.0
)

// Of returns the axis that a quantity has on the days on which it is compared on that scale.
func Of(r *outcome.Result, quantity string, scale outcome.Scale) Axis {
	a := Axis{log: scale == outcome.Ratio}
	var ends, estimates []float64
	for _, c := range r.Comparisons {
		if c.Quantity != quantity || c.Scale != scale || !c.Estimate.Known() || c.SaysNothing() {
			continue
		}
		estimates = append(estimates, float64(c.Estimate))
		if c.Lower.Known() && c.Upper.Known() {
			ends = append(ends, float64(c.Lower), float64(c.Upper))
		}
	}
	if len(estimates) == 0 {
		return a
	}
	a.drawn = true
	all := append(ends, estimates...)
	if a.log {
		a.None = 1
		a.low, a.high = math.Max(leastRatio, min(1/1.1, slices.Min(all)/1.05)), math.Min(mostRatio, max(1.1, slices.Max(all)*1.05))
		a.low, a.high = math.Min(a.low, 1/1.1), math.Max(a.high, 1.1)
		a.Ticks = a.ratioTicks()
		return a
	}
	a.low, a.high = min(0, slices.Min(all)), max(0, slices.Max(all))
	if a.high == a.low {
		a.low, a.high = -1, 1
	}
	room := (a.high - a.low) * 0.06
	a.low, a.high = a.low-room, a.high+room
	a.Ticks = a.differenceTicks()
	return a
}

// Place returns where v is, in % of the axis's width; beyond an end it is at the end. "" for what has no place.
func (a Axis) Place(v float64) string {
	if !a.drawn || math.IsNaN(v) || a.log && v < 0 {
		return ""
	}
	return strconv.FormatFloat(100*a.Share(v), 'f', 2, 64) + "%"
}

// Share is Place as a share of the width.
func (a Axis) Share(v float64) float64 {
	low, high := a.low, a.high
	v = math.Min(math.Max(v, low), high)
	if a.log {
		low, high, v = math.Log(low), math.Log(high), math.Log(v)
	}
	const margin = 0.03 // at both ends, for labels and arrows
	return margin + (1-2*margin)*(v-low)/(high-low)
}

// Cuts reports on which sides an interval goes beyond the axis.
func (a Axis) Cuts(lower, upper float64) (left, right bool) { return lower < a.low, upper > a.high }

// ratioTicks takes the finest of three sets of round ratios that leaves room for its labels on a phone.
func (a Axis) ratioTicks() []Tick {
	var ticks []Tick
	for _, set := range [][]float64{
		{0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6},
		{0.5, 0.67, 0.8, 1, 1.25, 1.5, 2, 3},
		{0.25, 0.5, 1, 2, 4},
		{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20},
		{0.1, 1, 10},
	} {
		ticks = nil
		for _, v := range set {
			if v >= a.low && v <= a.high {
				ticks = append(ticks, Tick{a.Place(v), strconv.FormatFloat(v, 'f', -1, 64), v})
			}
		}
		if len(ticks) <= 6 && len(ticks) >= 2 && a.low >= set[0]/2 && a.high <= set[len(set)-1]*2 {
			break
		}
	}
	return ticks
}

func (a Axis) differenceTicks() []Tick {
	step := math.Pow(10, math.Floor(math.Log10((a.high-a.low)/3)))
	for _, by := range []float64{5, 2} {
		if (a.high-a.low)/(step*by) >= 3 {
			step *= by
			break
		}
	}
	var ticks []Tick
	for i := math.Ceil(a.low / step); i*step <= a.high; i++ {
		label := strconv.FormatFloat(math.Abs(math.Round(i)*step), 'g', 3, 64)
		switch {
		case i > 0:
			label = "+" + label
		case i < 0:
			label = "−" + label
		}
		ticks = append(ticks, Tick{a.Place(i * step), label, i * step})
	}
	return ticks
}
