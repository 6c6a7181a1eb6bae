package answer

import (
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Estimate is a comparison's estimate: "2.4 ×" or "+12 percentage points".
func Estimate(c outcome.Comparison) string {
	if !c.Estimate.Known() {
		return ""
	}
	return withUnit(c, c.Estimate)
}

// times is a ratio as a sentence has it: "2.4 times".
func times(c outcome.Comparison) string { return c.Figure(c.Estimate) + " times" }

// Interval is a comparison's 95 % interval: "1.5 to 3.9".
func Interval(c outcome.Comparison) string {
	if c.SaysNothing() || !c.Lower.Known() || !c.Upper.Known() {
		return ""
	}
	return c.Figure(c.Lower) + " to " + c.Figure(c.Upper)
}

func withUnit(c outcome.Comparison, v reading.Number) string {
	if c.Scale == outcome.Ratio {
		return c.Figure(v) + " ×"
	}
	return outcome.WithUnit(c.Figure(v), outcome.PointsOf(c.Unit))
}
