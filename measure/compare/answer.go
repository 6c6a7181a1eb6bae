package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/planning"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/stats/dist"
	"traygauge/measure/wording"
)

// questionOf returns the question that is answered: the plan's, or the last review's leaf area, or root area where leaves were not
// measured, which then is as exploratory as all else.
func (t *trial) questionOf(r *outcome.Result) plan.Question {
	q := t.Plan.MainQuestion
	if q.Planned() && slices.Contains(r.Days, q.Day) {
		return q
	}
	q = plan.Question{Quantity: outcome.LeafArea, Day: r.LastDay, WorthPct: q.WorthPct}
	if q.WorthPct == 0 {
		q.WorthPct = 20
	}
	if !slices.ContainsFunc(r.Comparisons, func(c outcome.Comparison) bool {
		return c.Day == q.Day && c.Quantity == outcome.LeafArea && c.Estimate.Known()
	}) {
		q.Quantity = outcome.RootArea
	}
	return q
}

// sortRoles marks the comparisons that answer the main question, and adjusts all others together, so that not more than one in
// twenty of those called more or less is expected to be a false one (Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57, 289-300).
func (t *trial) sortRoles(r *outcome.Result, q plan.Question) {
	var at []int
	var ps []float64
	for i := range r.Comparisons {
		c := &r.Comparisons[i]
		if c.Role = outcome.Exploratory; q.Planned() && c.Quantity == q.Quantity && c.Day == q.Day && c.Kind != outcome.Pair {
			c.Role = outcome.Main
		}
		if c.Role == outcome.Exploratory && c.PSingle.Known() {
			at, ps = append(at, i), append(ps, float64(c.PSingle))
		}
	}
	for k, p := range stats.Adjust(ps, stats.BenjaminiHochberg) {
		c := &r.Comparisons[at[k]]
		c.PExploratory, c.ExploratoryN = arithmetic.Number(p), len(at)
		if c.Verdict.Clear() && p >= 1-outcome.Level {
			c.Verdict, c.MayBeChance = outcome.Unclear, true
			if c.Sentence = c.InWords(); c.Quantity == outcome.Stand {
				t.wordStand(c)
			}
			c.Sentence += fmt.Sprintf("; clear on its own, but may be chance among %d exploratory comparisons", len(at))
		}
	}
}

// answer words the answer to q.
func (t *trial) answer(r *outcome.Result, q plan.Question) outcome.Answer {
	a := outcome.Answer{Quantity: q.Quantity, Day: q.Day, Planned: q.Planned(), WorthPct: q.WorthPct, Lines: []outcome.AnswerLine{}}
	switch p := t.Plan.MainQuestion; {
	case a.Planned:
		a.Note = "The plan set this question before the data came in. Everything else is exploratory."
	case p.Planned():
		a.Note = fmt.Sprintf("The plan asks about %s on day %d, but there are no photos of that day yet. Until then everything is exploratory.", p.Quantity, p.Day)
	default:
		a.Note = "The plan has no main_question, so everything here is exploratory. Next time, write the question into trial.yaml before sowing."
	}
	var clear, unclear, single, zero, missing []string
	for _, c := range r.Comparisons {
		if c.Quantity != q.Quantity || c.Day != q.Day || c.Kind != outcome.AgainstControl {
			continue
		}
		a.Lines = append(a.Lines, c.Line())
		add := func(to *[]string) {
			if !slices.Contains(*to, c.Treatment) {
				*to = append(*to, c.Treatment)
			}
		}
		switch {
		case c.ReadsZero():
			add(&zero)
		case c.Verdict.Clear():
			clear = append(clear, fmt.Sprintf("%s: %s %s.", wording.Upper(c.Treatment), c.Size(), c.Control))
		case c.Verdict == outcome.Unclear:
			add(&unclear)
		case c.Verdict == outcome.TheseTrays:
			add(&single)
		default:
			add(&missing)
		}
	}
	var parts []string
	if len(clear) > 0 {
		parts = append(parts, strings.Join(clear, " "))
	}
	if len(unclear) > 0 {
		parts = append(parts, "Unclear for "+wording.List(unclear)+".")
	}
	if len(single) > 0 {
		words := "Only one tray each, so no conclusion for " + wording.List(single) + "."
		if len(clear)+len(unclear) == 0 {
			words = "one tray per treatment, so no conclusion about treatments is possible."
		}
		parts = append(parts, words)
	}
	if len(zero) > 0 {
		parts = append(parts, wording.Upper(outcome.ZeroWords(zero, len(parts)+len(missing) == 0)))
	}
	if len(missing) > 0 {
		parts = append(parts, "Not compared: "+wording.List(missing)+".")
	}
	if len(parts) > 0 {
		a.Short = fmt.Sprintf("%s, day %d: %s", wording.Upper(q.Quantity), q.Day, strings.Join(parts, " "))
	}
	return a
}

// need calculates beside an unclear comparison how many trays of each treatment would show the smallest difference worth having with
// 80 % power: as WhatPlanShows does, with the scatter that this trial's trays have.
func (t *trial) need(l *layout, c *outcome.Comparison, family int) {
	worth := t.worth(l)
	if c.Verdict != outcome.Unclear || !l.byTrays() || !(worth > 0) {
		return
	}
	variance, _ := l.known(family)
	groups := 0
	for _, g := range l.groups {
		if len(g.figures) > 0 {
			groups++
		}
	}
	shows := func(n int) bool {
		df := float64(groups * (n - 1))
		delta := t.memo.Get(fmt.Sprint("needed ", groups, family, n), func() float64 {
			return stats.Noncentrality(dist.ManyToOne(n, slices.Repeat([]int{n}, family), df).Quantile(outcome.Level), df, planning.Power)
		})
		return delta*math.Sqrt(variance*2/float64(n)) <= worth
	}
	least, most := 2, outcome.MostTraysTried+1
	for least < most { // the more trays, the smaller the difference that shows
		if half := (least + most) / 2; shows(half) {
			most = half
		} else {
			least = half + 1
		}
	}
	if c.TraysNeeded, c.WorthHaving = reading.Number(least), l.back(worth); l.angular {
		c.WorthHaving = arithmetic.Number(t.worthPct())
	}
}

// worth is the smallest difference worth having on the layout's scale, 0 for a quantity that no question can be about.
func (t *trial) worth(l *layout) float64 {
	pct := t.worthPct()
	switch {
	case l.Name != outcome.Stand && !slices.Contains(plan.Outcomes, l.Name):
		return 0
	case l.angular: // so many points towards the middle
		p := math.Pow(math.Sin(l.middle()), 2)
		off := p - math.Copysign(pct/100, p-0.5)
		return math.Abs(l.middle() - math.Asin(math.Sqrt(math.Max(0, math.Min(1, off)))))
	case l.Scale == outcome.Ratio:
		return math.Log1p(pct / 100)
	case l.Unit == "%":
		return pct
	}
	return 0
}

func (t *trial) worthPct() float64 {
	if pct := t.Plan.MainQuestion.WorthPct; pct != 0 {
		return pct
	}
	return 20
}
