package answer

import (
	"math"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// The page writes each comparison by one rule, that of table.WithU: half its interval's width has two significant digits, and estimate and ends are
// rounded to the same place, a ratio to a hundredth at most; finer only where that would hide on which side of no difference an end lies, or make 0 of a ratio.

// Estimate is a comparison's estimate: "2.4 ×" or "+12 percentage points".
func Estimate(c outcome.Comparison) string {
	if !c.Estimate.Known() {
		return ""
	}
	return withUnit(c, c.Estimate)
}

// times is a ratio as a sentence has it: "2.4 times".
func times(c outcome.Comparison) string { return figureText(c, c.Estimate) + " times" }

// Interval is a comparison's 95 % interval: "1.5 to 3.9".
func Interval(c outcome.Comparison) string {
	if c.SaysNothing() || !c.Lower.Known() || !c.Upper.Known() {
		return ""
	}
	return figureText(c, c.Lower) + " to " + figureText(c, c.Upper)
}

func withUnit(c outcome.Comparison, v reading.Number) string {
	if c.Scale == outcome.Ratio {
		return figureText(c, v) + " ×"
	}
	return outcome.WithUnit(figureText(c, v), outcome.PointsOf(c.Unit))
}

// figureText is one of a comparison's figures without its unit; differences have their sign.
func figureText(c outcome.Comparison, v reading.Number) string {
	none := 0.0
	if c.Scale == outcome.Ratio {
		none = 1
	}
	place := table.PlaceOf(float64(v), 3)
	if c.Lower.Known() && c.Upper.Known() && c.Upper > c.Lower && !c.SaysNothing() {
		place = table.PlaceOf(float64(c.Upper-c.Lower)/2, 2)
	}
	if c.Scale == outcome.Ratio {
		place = max(place, -2) // a per cent of the control
	}
	end := v == c.Lower || v == c.Upper
	lost := func() bool {
		r := math.Round(float64(v)/math.Pow10(place)) * math.Pow10(place)
		return end && math.Abs(r-none) < 1e-12 && math.Abs(float64(v)-none) > 1e-9 || c.Scale == outcome.Ratio && v > 0 && r < 1e-12
	}
	for finest := place - 3; lost() && place > finest; {
		place--
	}
	s := table.ToPlace(float64(v), place)
	if c.Scale != outcome.Ratio && v > 0 && s != "0" {
		s = "+" + s
	}
	return s
}
