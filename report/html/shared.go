package html

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/html/plugs"
	"traygauge/report/table"
)

// sharedFacts is what all comparisons of a quantity on a day have in common, said once for all of them.
type sharedFacts struct {
	Means   []treatmentMean
	Varying []string // how trays and plugs vary, and what of the uncertainty comes from measuring
	Takes   string   // how many trays show the difference worth having, where that takes most
	Limits  []string // each once; they name the treatments and trays that they are about

	measuring, trays reading.Number // the largest share; the most trays
}

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
		s.Varying = append(s.Varying, fmt.Sprintf("at most %s %% of the uncertainty comes from measuring", table.Digits(s.measuring, 0)))
	}
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
