// Package planning calculates what a trial can detect, before anything is sown.
//
//	in    a plan, and the variation between trays and between plugs: from common practice or an earlier trial
//	out   the smallest ratio that the trial can detect
//
// It must not depend on readings.
package planning

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/stats/dist"
	"traygauge/measure/wording"
)

// Power is the chance with which a difference that is there shall show.
const Power = 0.8

// Variation is how much trays treated alike and plugs of one tray vary, as coefficients of variation.
type Variation struct {
	Quantity  string  `json:"quantity"` // "" for any size
	TrayCVPct float64 `json:"tray_cv_pct"`
	PlugCVPct float64 `json:"plug_cv_pct"`
	DF        int     `json:"df"`     // of the variation between trays; 0: not from trays of one's own
	Source    string  `json:"source"` // in words
}

// UsualVariation is what is assumed where no past trial tells; measure/README.md says how well it is founded.
var UsualVariation = Variation{TrayCVPct: 10, PlugCVPct: 30, Source: "not measured; use --past DIR to take both from an earlier trial"}

// Shows is what a plan can show of one treatment against one control.
type Shows struct {
	Treatment     string         `json:"treatment"`
	Control       string         `json:"control"`
	Trays         int            `json:"trays"`
	ControlTrays  int            `json:"control_trays"`
	SmallestRatio reading.Number `json:"smallest_ratio"` // that shows with 80 % power; null: none, however large
	Split         []Split        `json:"split"`          // the same plugs over more, smaller trays
	Why           string         `json:"why,omitempty"`  // there is none
}

// Split is what the plan could show if every tray's plugs were spread over several smaller trays.
type Split struct {
	TraysForOne   int            `json:"trays_for_one"`
	PlugsEach     int            `json:"plugs_each"`
	SmallestRatio reading.Number `json:"smallest_ratio"`
}

// splits are how many smaller trays are tried in place of one, and fewestPlugs how few plugs one of them may hold.
var splits = []int{2, 4}

const fewestPlugs = 5

// WhatPlanShows calculates the smallest ratio of each treatment to each of its controls that p shows with 80 % power at a
// false-alarm rate of 5 %, judged as the comparisons themselves are: Dunnett's critical value d for the treatments set against
// that control, with as many degrees of freedom ν as there are trays beyond one a treatment. With σ² = σ²(tray) + σ²(plug)/m
// for m plugs per tray,
//
//	ln ratio = δ·σ·√(1/n + 1/n₀)    P(|T'| > d) = 0.8 for T' noncentral t with ν and δ
func WhatPlanShows(p *plan.Plan, v Variation) []Shows {
	plugs := p.Tray.Rows * p.Tray.Columns
	all, known := []Shows{}, arithmetic.Memo{}
	for _, t := range p.Treatments {
		for _, control := range t.CompareWith {
			s := Shows{Treatment: t.Name, Control: control, Trays: len(p.TraysOf(t.Name)), ControlTrays: len(p.TraysOf(control)), SmallestRatio: reading.Missing, Split: []Split{}}
			s.SmallestRatio = smallestRatio(p, v, t.Name, control, 1, plugs, known)
			switch {
			case s.Trays == 0 || s.ControlTrays == 0:
				s.Why = "one of the two has no tray"
			case !s.SmallestRatio.Known():
				s.Why = "none: no treatment has a second tray"
			}
			for _, k := range splits {
				if plugs/k >= fewestPlugs {
					s.Split = append(s.Split, Split{k, plugs / k, smallestRatio(p, v, t.Name, control, k, plugs/k, known)})
				}
			}
			all = append(all, s)
		}
	}
	return all
}

// smallestRatio is one line's figure with k trays of so many plugs in place of each tray.
func smallestRatio(p *plan.Plan, v Variation, treatment, control string, k, plugs int, known arithmetic.Memo) reading.Number {
	df := 0
	var family []int
	for _, t := range p.Treatments {
		n := k * len(p.TraysOf(t.Name))
		df += max(0, n-1)
		if n > 0 && slices.Contains(t.CompareWith, control) {
			family = append(family, n)
		}
	}
	n, n0 := float64(k*len(p.TraysOf(treatment))), k*len(p.TraysOf(control))
	if df == 0 || n == 0 || n0 == 0 || plugs == 0 {
		return reading.Missing
	}
	tray, plug := arithmetic.LogSD(v.TrayCVPct), arithmetic.LogSD(v.PlugCVPct)
	sd := math.Sqrt(tray*tray + plug*plug/float64(plugs))
	delta := known.Get(fmt.Sprint(n0, family, df), func() float64 {
		return stats.Noncentrality(dist.ManyToOne(n0, family, float64(df)).Quantile(outcome.Level), float64(df), Power)
	})
	return arithmetic.Number(math.Exp(delta * sd * math.Sqrt(1/n+1/float64(n0))))
}

// PastVariation pools how much trays and plugs varied in past trials, for root area and for leaf area: from each trial its
// last day with replicate trays, weighted by degrees of freedom.
func PastVariation(past ...*outcome.Result) []Variation {
	var found []Variation
	for _, quantity := range []string{outcome.RootArea, outcome.LeafArea} {
		trays, plugs, df, trials := 0.0, 0.0, 0.0, 0
		for _, r := range past {
			c, ok := lastWithTrays(r, quantity)
			if !ok {
				continue
			}
			tray, plug, n := arithmetic.LogSD(float64(c.TrayVariation)), arithmetic.LogSD(float64(c.PlugVariation)), float64(c.DF)
			trays, plugs, df, trials = trays+n*tray*tray, plugs+n*plug*plug, df+n, trials+1
		}
		if df > 0 {
			found = append(found, Variation{quantity, arithmetic.CVPct(math.Sqrt(trays / df)), arithmetic.CVPct(math.Sqrt(plugs / df)), int(df),
				fmt.Sprintf("from %s, %s beyond one a treatment", wording.Counted(trials, "past trial", "past trials"), wording.Counted(int(df), "tray", "trays"))})
		}
	}
	return found
}

// lastWithTrays returns the last comparison of a quantity whose variation between trays and plugs is known.
func lastWithTrays(r *outcome.Result, quantity string) (last outcome.Comparison, ok bool) {
	for _, c := range r.Comparisons {
		if c.Quantity == quantity && c.Scale == outcome.Ratio && c.TrayVariation.Known() && c.PlugVariation.Known() && c.DF > 0 && (!ok || c.Day >= last.Day) {
			last, ok = c, true
		}
	}
	return last, ok
}
