package html

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report/html/plugs"
	"traygauge/report/table"
)

// sharedFacts is what all comparisons of a quantity on a day have in common, said once for all of them.
type sharedFacts struct {
	Means   []treatmentMean
	Varying []string // how trays and plugs vary, and what of the uncertainty comes from measuring
	Takes   string   // how many trays show the difference worth having, where that takes most
	Tests   string   // by which test each p is
	Limits  []string // each once; they name the treatments and trays that they are about

	tests            []testOf
	measuring, trays reading.Number // the largest share; the most trays
}

// testOf is a test and the comparisons that it was made for.
type testOf struct{ test, comparison string }

// treatmentMean is a treatment's mean with its uncertainty from measuring, and the trays that it is the mean of.
type treatmentMean struct {
	Treatment, Mean string
	Trays           []trayLink
}

// trayLink leads to a tray's photo in the evidence; ID is "" for a number without a link.
type trayLink struct {
	Number int
	ID     string
}

// add takes in what a comparison says.
func (s *sharedFacts) add(c outcome.Comparison) {
	for _, v := range []struct {
		before string
		of     reading.Number
	}{{"tray-to-tray variation ", c.TrayVariation}, {"between plugs of one tray ", c.PlugVariation}} {
		if words := v.before + c.VariationWords(v.of); v.of.Known() && !slices.Contains(s.Varying, words) {
			s.Varying = append(s.Varying, words)
		}
	}
	if c.P.Known() && c.Test != "" {
		t := testOf{c.Test, c.Treatment + " against " + c.Control}
		if c.Together > 1 {
			t.test += fmt.Sprintf(" of %d comparisons", c.Together)
		}
		if c.Kind == outcome.Interaction {
			t.comparison = c.Treatment + " against its parts"
		}
		s.tests = append(s.tests, t)
	}
	if c.MeasuringShare.Known() && c.MeasuringShare >= s.measuring {
		s.measuring = c.MeasuringShare
	}
	if c.TraysNeeded.Known() && c.TraysNeeded > s.trays {
		s.trays, s.Takes = c.TraysNeeded, c.TakesWords()
	}
	for _, l := range c.Limits {
		if !slices.Contains(s.Limits, l) {
			s.Limits = append(s.Limits, l)
		}
	}
}

// settle adds the treatments' means. Links to photos are left out of earlier days, where they would be a sixth of a long trial's page.
func (s *sharedFacts) settle(r *outcome.Result, day int, quantity string, linked bool) {
	if s.measuring > 0 {
		s.Varying = append(s.Varying, fmt.Sprintf("at most %s %% of the uncertainty comes from the measurement", table.Digits(s.measuring, 0)))
	}
	s.Tests = testsWords(s.tests)
	view := plugs.ViewOf(quantity)
	for _, f := range r.On(day).Figures {
		if f.Quantity != quantity {
			continue
		}
		m := treatmentMean{Treatment: f.Treatment, Mean: meanWords(f)}
		for _, t := range f.Trays {
			link := trayLink{Number: t.Tray}
			if linked {
				link.ID = plugs.PhotoID(t.Tray, day, view)
			}
			m.Trays = append(m.Trays, link)
		}
		s.Means = append(s.Means, m)
	}
}

// meanWords is a treatment's mean with its uncertainty and unit; a ratio of areas has none.
func meanWords(f outcome.Figures) string {
	figure := table.WithU(f.Mean, f.U)
	if strings.HasPrefix(f.Unit, "mm²/") {
		return figure
	}
	return outcome.WithUnit(figure, f.Unit)
}

// testsWords says which test each p comes from. The test of most comparisons is named last, as that of the others.
func testsWords(tests []testOf) string {
	var names []string
	of := map[string][]string{}
	for _, t := range tests {
		if !slices.Contains(names, t.test) {
			names = append(names, t.test)
		}
		of[t.test] = append(of[t.test], t.comparison)
	}
	if len(names) == 0 {
		return ""
	}
	slices.SortStableFunc(names, func(a, b string) int { return len(of[a]) - len(of[b]) })
	last := len(names) - 1
	var parts []string
	for _, name := range names[:last] {
		parts = append(parts, fmt.Sprintf("%s for %s", name, wording.List(of[name])))
	}
	if last == 0 {
		return "Test: " + names[0]
	}
	return "Tests: " + strings.Join(append(parts, names[last]+" for the others"), "; ")
}
