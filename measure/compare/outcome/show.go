package outcome

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"traygauge/measure/reading"
)

// On returns what r says of one day.
func (r *Result) On(day int) *Result {
	s := &Result{Title: r.Title, Days: []int{}, LastDay: r.LastDay, Answer: r.Answer, Doses: r.Doses, Places: r.Places, Outliers: r.Outliers, Outlying: r.Outlying, Without: r.Without, Comparisons: []Comparison{}, Figures: []Figures{}, Trays: []TrayGrowth{}, Limits: r.Limits, MustKnow: r.MustKnow}
	if slices.Contains(r.Days, day) {
		s.Days = append(s.Days, day)
	}
	for _, c := range r.Comparisons {
		if c.Day == day {
			s.Comparisons = append(s.Comparisons, c)
		}
	}
	for _, f := range r.Figures {
		if f.Day == day {
			s.Figures = append(s.Figures, f)
		}
	}
	for _, g := range r.Trays {
		if g.Day == day {
			s.Trays = append(s.Trays, g)
		}
	}
	return s
}

// Told reports whether a comparison belongs into a summary in words: areas and stand whatever they say, and all else where it is
// clear. Hue and colour index stay in the table: what they mean to a grower is in the yellow leaf share.
func (c Comparison) Told() bool {
	switch c.Quantity {
	case RootArea, LeafArea, Stand:
		return true
	case LeafHue, DarkGreen:
		return false
	}
	return c.Verdict.Clear()
}

// Matches returns the comparisons together that set the same treatments against each other, in the order in which they first
// come: those with controls, then combinations, then other pairs.
func (r *Result) Matches() [][]Comparison {
	var order []string
	with := map[string][]Comparison{}
	for _, kind := range []Kind{AgainstControl, Interaction, Pair} {
		for _, c := range r.Comparisons {
			if c.Kind != kind {
				continue
			}
			key := strings.Join([]string{string(c.Kind), c.Treatment, c.Control, strings.Join(c.Parts, "\x00")}, "\x00")
			if with[key] == nil {
				order = append(order, key)
			}
			with[key] = append(with[key], c)
		}
	}
	matches := make([][]Comparison, len(order))
	for i, key := range order {
		matches[i] = with[key]
	}
	return matches
}

// Match says what is set against what, as in "seaweed against base feed only".
func (c Comparison) Match() string {
	switch c.Kind {
	case Pair:
		return fmt.Sprintf("%s against %s, among all pairs", c.Treatment, c.Control)
	case Interaction:
		return fmt.Sprintf("%s against %s and %s combined, on %s", c.Treatment, c.Parts[0], c.Parts[1], c.Control)
	}
	return fmt.Sprintf("%s against %s", c.Treatment, c.Control)
}

// MeanWords is the treatment's mean with its unit, "" for none.
func (c Comparison) MeanWords() string { return meanWords(c.Mean, c.Unit) }

// ControlWords is the control's mean with its unit, "" for none and for an interaction, whose base is no control.
func (c Comparison) ControlWords() string {
	if c.Kind == Interaction {
		return ""
	}
	return meanWords(c.ControlMean, c.Unit)
}

func meanWords(n reading.Number, unit string) string {
	if !n.Known() {
		return ""
	}
	if strings.HasPrefix(unit, "mm²/") {
		return fmt.Sprintf("%.3f", float64(n))
	}
	return Amount(float64(n), unit)
}

// EstimateWords is the estimate as a table shows it: "× 1.58" or "+12 percentage points".
func (c Comparison) EstimateWords() string {
	if !c.Estimate.Known() {
		return ""
	}
	if c.Scale == Ratio {
		return fmt.Sprintf("× %.2f", float64(c.Estimate))
	}
	return WithUnit(signed(float64(c.Estimate), c.Unit), tableUnit(c.Unit))
}

// tableUnit is the unit of a difference in a table; "" for an index.
func tableUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return PointsOf(unit)
}

// RatioSaysNothing reports whether a ratio's interval goes from less than a tenth to more than ten times.
func RatioSaysNothing(lower, upper float64) bool { return lower < 0.1 && upper > 10 }

// SaysNothing reports whether a comparison's interval spans all that one could think of: from a tenth to ten times, from half of all
// plants fewer to half of all more, from growing by half less a day to growing by half more, or from losing nearly all that the larger side has to
// gaining nine times that. It is not shown as a result, and Settle takes its ends away.
func (c Comparison) SaysNothing() bool {
	if c.SpansEverything || !c.Lower.Known() {
		return c.SpansEverything
	}
	below, above := float64(-c.Lower), float64(c.Upper)
	if !c.Upper.Known() { // too large for a number
		above = math.Inf(1)
	}
	if c.Scale == Ratio {
		return RatioSaysNothing(float64(c.Lower), above)
	}
	switch c.Unit {
	case "%", "% a day":
		return below >= 50 && above >= 50
	case "°":
		return below >= 180 && above >= 180
	case "": // an index from 0 to 1
		return below >= 1 && above >= 1
	}
	larger := math.Max(math.Abs(float64(c.Mean)), math.Abs(float64(c.ControlMean)))
	return larger > 0 && below >= 0.9*larger && above >= 9*larger
}

// Settle takes the ends of an interval that spans everything away.
func (c *Comparison) Settle() {
	if c.SaysNothing() {
		c.SpansEverything, c.Lower, c.Upper = true, reading.Missing, reading.Missing
	}
}

// IntervalWords is the interval as a table shows it.
func (c Comparison) IntervalWords() string {
	switch {
	case c.SaysNothing():
		return "too wide"
	case !c.Lower.Known() || !c.Upper.Known():
		return ""
	case c.Scale == Ratio:
		return fmt.Sprintf("%.2f to %.2f", float64(c.Lower), float64(c.Upper))
	}
	return signed(float64(c.Lower), c.Unit) + " to " + signed(float64(c.Upper), c.Unit)
}

// mostCV is up to which % a coefficient of variation is written out.
const mostCV = 1000

// VariationWords is one of the variations: a CV on the ratio scale, a standard deviation in the unit otherwise.
func (c Comparison) VariationWords(v reading.Number) string {
	switch {
	case !v.Known():
		return ""
	case c.Scale == Ratio && v > mostCV:
		return fmt.Sprintf("over %d %%", mostCV)
	case c.Scale == Ratio:
		return fmt.Sprintf("%.0f %%", float64(v))
	}
	return WithUnit(amountOnly(float64(v), c.Unit), PointsOf(c.Unit))
}

// VerdictWords is the verdict as a table shows it, where p alone may seem to contradict it: "unclear, may be chance".
func (c Comparison) VerdictWords() string {
	if c.MayBeChance {
		return string(c.Verdict) + ", may be chance"
	}
	return string(c.Verdict)
}
