package answer

import (
	"fmt"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// The headline and the excerpt name treatments and say in words what is clear and what is not. The ratio 2.43 with an interval from 1.51 to
// 3.90 has half a width of 1.2, two digits of which end at the first decimal.
func TestHeadline(t *testing.T) {
	c := func(treatment, control string, verdict outcome.Verdict) outcome.Comparison {
		return outcome.Comparison{Day: 28, Quantity: outcome.LeafArea, Kind: outcome.AgainstControl, Treatment: treatment, Control: control, Scale: outcome.Ratio,
			Estimate: 2.43, Lower: 1.51, Upper: 3.90, Verdict: verdict, Inference: outcome.Trays}
	}
	alike := c("sugar", "feeding", outcome.TheseTrays)
	alike.Estimate, alike.Lower, alike.Upper = 1.05, 0.88, 1.25
	for _, k := range []struct {
		of   []outcome.Comparison
		want string
	}{
		{[]outcome.Comparison{alike, c("feeding", "water alone", outcome.TheseTrays)}, // trays that may well be equal are not said to differ
			"The tray of feeding had 2.4 times the leaf area of the tray of water alone. With one tray per treatment, no conclusion about treatments is possible."},
		{[]outcome.Comparison{alike}, "With one tray per treatment, no conclusion about treatments is possible."},
		{[]outcome.Comparison{c("feeding", "water alone", outcome.More), c("seaweed", "feeding", outcome.Unclear), c("sugar", "feeding", outcome.Unclear)},
			"Feeding grew 2.4 times the leaf area of water alone. Seaweed and sugar: no clear effect in this trial."},
		{[]outcome.Comparison{c("seaweed", "feeding", outcome.Unclear)}, "Seaweed: no clear effect on leaf area in this trial."},
		{[]outcome.Comparison{c("both", "seaweed", outcome.More), c("both", "sugar", outcome.Unclear)},
			"Both grew 2.4 times the leaf area of seaweed. Both against sugar: no clear effect in this trial."},
		{[]outcome.Comparison{c("feeding", "water alone", outcome.TheseTrays), c("sugar", "feeding", outcome.TheseTrays)},
			"The tray of feeding had 2.4 times the leaf area of the tray of water alone. The tray of sugar had 2.4 times the leaf area of the tray of feeding. With one tray per treatment, no conclusion about treatments is possible."},
		{nil, "No comparison is possible yet."},
		{[]outcome.Comparison{c("a", "water", outcome.More), c("b", "water", outcome.More), c("c", "water", outcome.More), c("d", "water", outcome.More), c("e", "water", outcome.Unclear),
			c("f", "water", outcome.Unclear), c("g", "water", outcome.Unclear), c("h", "water", outcome.Unclear), c("i", "water", outcome.Unclear), c("j", "water", outcome.Unclear), c("k", "water", outcome.Unclear)},
			"A grew 2.4 times the leaf area of water. B grew 2.4 times the leaf area of water. Two more treatments differ clearly from their controls. Seven treatments: no clear effect in this trial."},
	} {
		r := &outcome.Result{Answer: outcome.Answer{Quantity: outcome.LeafArea, Day: 28, Planned: true}, Comparisons: k.of}
		if got := Headline(r); got != k.want {
			t.Errorf("%q, want %q", got, k.want)
		}
	}
}

// A trial in which every tray reads 0 has a result: nothing came up anywhere. Where one treatment has no photo, the others still read 0.
func TestHeadlineOfATrialThatReadsZero(t *testing.T) {
	p := testtrial.Plan()
	p.Trays = nil
	var readings []reading.Reading
	for i, treatment := range p.Treatments {
		for k := range 3 {
			tray := 3*i + k + 1
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: treatment.Name})
			readings = append(readings, testtrial.Reading(fmt.Sprintf("%d.jpg", tray), tray, reading.Roots, testtrial.Taken(17, 9, tray), testtrial.RootPlug("A1", 0, 0), testtrial.RootPlug("A2", 0, 0)))
		}
	}
	r := compare.Of(p, readings, nil, compare.Options{})
	if got, want := Headline(r), "Root area: all trays read 0, so there is no difference."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if want := "Root area, day 17: All trays read 0, so there is no difference."; r.Answer.Short != want || r.Answer.Lines[0].Words != "both read 0" {
		t.Errorf("%q, want %q; %q", r.Answer.Short, want, r.Answer.Lines[0].Words)
	}
	r = compare.Of(p, readings[:6], nil, compare.Options{})
	if got, want := Headline(r), "Base feed reads 0, like its control. Base feed + seaweed extract: not compared."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if want := "Root area, day 17: Base feed reads 0, like its control. Not compared: base feed + seaweed extract."; r.Answer.Short != want {
		t.Errorf("%q, want %q", r.Answer.Short, want)
	}
}

// Clear differences beside the answer are said in words that a grower would use.
func TestClearWords(t *testing.T) {
	from := 21
	for _, k := range []struct {
		c    outcome.Comparison
		want string
	}{
		{outcome.Comparison{Quantity: outcome.LeafSeason, Unit: "% a day", Scale: outcome.Difference, Estimate: 3.14, Lower: 1.52, Upper: 4.76},
			"Base feed: leaves grew 3.1 percentage points a day faster than with water only, over all reviews."},
		{outcome.Comparison{Quantity: outcome.RootGrowth, Unit: "% a day", FromDay: &from, Scale: outcome.Difference, Estimate: -2.2, Lower: -3.3, Upper: -1.1},
			"Base feed: roots grew 2.2 percentage points a day more slowly than with water only, since day 21."},
		{outcome.Comparison{Quantity: outcome.Chlorotic, Unit: "%", Scale: outcome.Difference, Estimate: 12, Lower: 2, Upper: 22}, "Base feed: yellow leaf share 12 percentage points above water only."},
		{outcome.Comparison{Quantity: outcome.RootArea, Unit: "mm²", Scale: outcome.Ratio, Estimate: 0.62, Lower: 0.5, Upper: 0.77}, "Base feed grew 0.62 times the root area of water only."},
	} {
		k.c.Treatment, k.c.Control = "base feed", "water only"
		if got := Sentence(k.c); got != k.want {
			t.Errorf("%q, want %q", got, k.want)
		}
	}
}

// Figures have the place of the second digit of half the interval's width (JCGM 100:2008, 7.2.6), calculated by hand here, and finer where
// that would put a figure on the other side of no difference.
func TestComparisonsAreRoundedByOneRule(t *testing.T) {
	for _, k := range []struct {
		scale                  outcome.Scale
		unit                   string
		estimate, lower, upper float64
		want, interval         string
	}{
		{outcome.Ratio, "mm²", 2.478, 1.347, 4.531, "2.5 ×", "1.3 to 4.5"}, // 1.59
		{outcome.Ratio, "mm²", 1.1234, 0.6211, 2.004, "1.12 ×", "0.62 to 2.00"},
		{outcome.Ratio, "mm²", 1.1234, 1.0211, 1.236, "1.12 ×", "1.02 to 1.24"}, // 0.107
		{outcome.Ratio, "mm²", 1.9, 0.97, 3.8, "1.9 ×", "0.97 to 3.8"},          // 1.4: 1.0 would be the line itself
		{outcome.Ratio, "mm²", 0.999, 0.13, 8.2, "1.0 ×", "0.1 to 8.2"},
		{outcome.Difference, "%", -0.0004, -0.93, 0.93, "0 percentage points", "−0.93 to +0.93"},
		{outcome.Ratio, "mm²", 0.5, 0.04, 6.1, "0.5 ×", "0.04 to 6.1"},
		{outcome.Ratio, "mm²", 14.2, 4.4, 46, "14 ×", "4 to 46"}, // 21
		{outcome.Difference, "%", 12.34, -3.21, 27.9, "+12 percentage points", "−3 to +28"},
		{outcome.Difference, "°", -0.234, -0.951, 0.483, "−0.23°", "−0.95 to +0.48"},
	} {
		c := outcome.Comparison{Scale: k.scale, Unit: k.unit, Estimate: reading.Number(k.estimate), Lower: reading.Number(k.lower), Upper: reading.Number(k.upper)}
		if got, interval := Estimate(c), Interval(c); got != k.want || interval != k.interval {
			t.Errorf("%g (%g to %g): %q, %q; want %q, %q", k.estimate, k.lower, k.upper, got, interval, k.want, k.interval)
		}
	}
}
