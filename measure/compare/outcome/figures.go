package outcome

import (
	"math"
	"strings"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// Figure writes one of c's figures, its estimate or an end of its interval, without its unit; differences have their sign. Sentences and the page
// use one rule, that of an uncertainty (JCGM 100:2008, 7.2.6): half the interval's width has two significant digits, and estimate and ends are
// rounded to the same place, a ratio to a hundredth at most; finer only where that would hide on which side of no difference an end lies, or
// make 0 of a ratio.
func (c Comparison) Figure(v reading.Number) string {
	none := c.none()
	place := wording.PlaceOf(float64(v), 3)
	if c.Lower.Known() && c.Upper.Known() && c.Upper > c.Lower && !c.SaysNothing() {
		place = wording.PlaceOf(float64(c.Upper-c.Lower)/2, 2)
	}
	if c.Scale == Ratio {
		place = max(place, -2) // a per cent of the control
	}
	end := v == c.Lower || v == c.Upper
	lost := func() bool {
		r := math.Round(float64(v)/math.Pow10(place)) * math.Pow10(place)
		return end && math.Abs(r-none) < 1e-12 && math.Abs(float64(v)-none) > 1e-9 || c.Scale == Ratio && v > 0 && r < 1e-12
	}
	for finest := place - 3; lost() && place > finest; {
		place--
	}
	s := wording.ToPlace(float64(v), place)
	if c.Scale != Ratio && v > 0 && s != "0" {
		s = "+" + s
	}
	return s
}

// unsigned is Figure without a sign, for a difference that is said to be above or below.
func (c Comparison) unsigned(v reading.Number) string { return strings.TrimLeft(c.Figure(v), "+−") }
