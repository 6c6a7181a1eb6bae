package axis

import (
	"math"
	"slices"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// On a logarithmic axis 1 is halfway between a half and two.
func TestAxis(t *testing.T) {
	r := &outcome.Result{Comparisons: []outcome.Comparison{{Quantity: "x", Scale: outcome.Ratio, Estimate: 1, Lower: 0.5, Upper: 2}}}
	a := Of(r, "x", outcome.Ratio)
	if left, right := a.Share(1)-a.Share(0.5), a.Share(2)-a.Share(1); math.Abs(left-right) > 1e-12 || left <= 0 {
		t.Errorf("a half is %g from none, twice %g", left, right)
	}
	if a.Place(math.NaN()) != "" || a.Share(1e9) > 1 || a.Share(1e-9) < 0 {
		t.Error("what is off the axis is off the drawing")
	}
	for _, span := range [][2]float64{{0.97, 1.04}, {0.8, 1.3}, {0.4, 5}, {0.12, 29}, {0.03, 9}, {0.9, 90}} {
		r.Comparisons[0].Lower, r.Comparisons[0].Upper = reading.Number(span[0]), reading.Number(span[1])
		a := Of(r, "x", outcome.Ratio)
		if n := len(a.Ticks); n < 2 || n > 8 {
			t.Errorf("from %g to %g there are %d labels", span[0], span[1], n)
		}
		if !slices.ContainsFunc(a.Ticks, func(t Tick) bool { return t.Value == 1 }) {
			t.Errorf("from %g to %g no label says 1", span[0], span[1])
		}
	}
	for _, span := range [][2]float64{{-3, 2}, {-100, 100}, {0.001, 0.004}, {-41, -12}} {
		r.Comparisons[0] = outcome.Comparison{Quantity: "x", Unit: "mm²", Scale: outcome.Difference, Estimate: reading.Number(span[0]), Lower: reading.Number(span[0]), Upper: reading.Number(span[1])}
		if n := len(Of(r, "x", outcome.Difference).Ticks); n < 2 || n > 8 {
			t.Errorf("from %g to %g there are %d labels", span[0], span[1], n)
		}
	}
}

// A day on which there is no ratio has an axis of its own: differences in mm² do not stretch the ratios of the other days, nor make them differences.
func TestADayWithoutRatiosHasItsOwnAxis(t *testing.T) {
	r := &outcome.Result{Comparisons: []outcome.Comparison{
		{Quantity: "x", Scale: outcome.Ratio, Day: 10, Estimate: 1.2, Lower: 1, Upper: 1.5},
		{Quantity: "x", Scale: outcome.Difference, Unit: "mm²", Day: 5, Estimate: -2, Lower: -30, Upper: 26}}}
	if a := Of(r, "x", outcome.Ratio); !a.log || a.high > 2 || a.low < 0.5 {
		t.Errorf("the ratios' axis goes from %g to %g", a.low, a.high)
	}
	if a := Of(r, "x", outcome.Difference); a.log || a.low > -30 {
		t.Errorf("the differences' axis goes from %g to %g", a.low, a.high)
	}
}
