// Package compare compares the treatments of a trial with their controls, using the readings and the plan.
//
//	in    the plan, readings, the log
//	out   an outcome.Result
//
// It must not depend on how photos are measured or who shows a result.
//
// Treatments are given to trays, so trays are compared: the plugs of a tray give one figure, and the scatter of trays with the
// same treatment is the measure of uncertainty. If every treatment has only one tray, there is no such scatter. The plugs then
// show how well each tray is known, and there is no conclusion about treatments.
package compare

import (
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
)

// trial is a trial's figures tray by tray, and critical values that were calculated for it.
type trial struct {
	*trayfigure.Trial
	memo arithmetic.Memo
}

func gather(p *plan.Plan, readings []reading.Reading) *trial {
	return &trial{trayfigure.Collect(p, readings), arithmetic.Memo{}}
}

// Options say what is compared beside each treatment with its controls. The zero value works.
type Options struct {
	AllPairs bool // also every treatment with every other
	Public   bool // the log's own words are left out: that something happened to a tray is said, not what
}

// Of compares a trial's treatments from the readings of its photos. log may be nil; what it notes of single trays is
// repeated among the limits. What cannot be compared is in the result with the reason: there is no error.
func Of(p *plan.Plan, readings []reading.Reading, log []logbook.Entry, o Options) *outcome.Result {
	t := gather(p, readings)
	r := &outcome.Result{Title: p.Title, Days: append([]int{}, t.Days...), LastDay: t.ReviewBefore(len(t.Days)), Comparisons: []outcome.Comparison{}, Figures: []outcome.Figures{}, Trays: []outcome.TrayGrowth{}}
	for i, day := range t.Days {
		for _, l := range t.layouts(i) {
			r.Comparisons = append(r.Comparisons, t.compareAll(l, o)...)
			r.Figures = append(r.Figures, l.figures()...)
			if l.LeftOut != "" && !slices.Contains(t.Limits, l.LeftOut) {
				t.Limits = append(t.Limits, l.LeftOut)
			}
		}
		r.Trays = append(r.Trays, t.growing(day)...)
	}
	if r.LastDay >= 0 {
		r.Doses, r.Places = t.doseTrends(r.LastDay), t.places(r.LastDay)
		r.Outliers = t.outliers(r.LastDay)
	}
	q := t.questionOf(r)
	t.sortRoles(r, q)
	r.Answer = t.answer(r, q)
	if r.LastDay >= 0 {
		r.Outlying = t.outlyingTrays(r)
		r.Without = t.without(readings, log, r)
	}
	r.Limits = t.limitsOf(r, log, o.Public)
	return r
}

// layoutOf is the layout of a quantity that a photo gives.
func (t *trial) layoutOf(q trayfigure.Quantity, day int) *layout {
	return t.layoutBy(q, day, t.placesOf)
}

// layoutBy is layoutOf with a model of where the trays stand.
func (t *trial) layoutBy(q trayfigure.Quantity, day int, model func(*layout) *model) *layout {
	return t.layBy(&layout{About: trayfigure.About{Name: q.Name, Unit: q.Unit, Scale: q.Scale, Day: day, Needs: []trayfigure.Need{{Day: day, View: q.View}}}},
		func(tray int) (trayfigure.Figure, bool) { return t.FigureOf(q, day, tray) }, model)
}

// layouts returns all that is compared on the i-th day with photos. Growth rates are since the review before it.
func (t *trial) layouts(i int) []*layout {
	day := t.Days[i]
	var ls []*layout
	for _, q := range trayfigure.Measured {
		ls = append(ls, t.layoutOf(q, day))
	}
	for _, d := range t.Derived(t.ReviewBefore(i), day) {
		ls = append(ls, t.lay(&layout{About: d.About}, d.Figure))
	}
	ls = append(ls, t.standLayout(day))
	return slices.DeleteFunc(ls, func(l *layout) bool { return len(l.all()) == 0 && l.LeftOut == "" })
}

// compareAll makes a layout's comparisons: each treatment with its controls, then combinations with their parts, then,
// where asked, all pairs.
func (t *trial) compareAll(l *layout, o Options) []outcome.Comparison {
	var cs []outcome.Comparison
	for _, treatment := range t.Plan.Treatments {
		for _, control := range treatment.CompareWith {
			cs = append(cs, t.againstControl(l, treatment.Name, control))
		}
	}
	for _, x := range t.Plan.Combinations() {
		if l.Name == outcome.Stand {
			break // what two parts would give together may be more than all plugs
		}
		cs = append(cs, t.interaction(l, x))
	}
	if o.AllPairs {
		cs = append(cs, t.pairs(l)...)
	}
	if l.Name == outcome.Stand {
		for i := range cs {
			t.wordStand(&cs[i])
		}
	}
	return cs
}

// againstControl compares a treatment with one of its controls, adjusted for all treatments that the plan compares with it.
func (t *trial) againstControl(l *layout, treatment, control string) outcome.Comparison {
	a, b := l.group(treatment), l.group(control)
	c, ok := t.begin(l, outcome.AgainstControl, a, b)
	if !ok {
		return c
	}
	var family []group
	for _, other := range t.Plan.Treatments {
		if g := l.group(other.Name); slices.Contains(other.CompareWith, control) && len(g.figures) > 0 {
			family = append(family, g)
		}
	}
	l.judge(&c, l.contrast(len(family), term{a, 1}, term{b, -1}), l.manyToOne(family, b))
	if l.ranks {
		l.rankToControl(&c, family, b)
	}
	t.need(l, &c, max(1, len(family)))
	c.Sentence = c.InWords()
	return c
}

// pairs compares every treatment that was measured with every other. Why one was not stands with its controls.
func (t *trial) pairs(l *layout) []outcome.Comparison {
	var with []group
	for _, g := range l.groups {
		if len(g.figures) > 0 {
			with = append(with, g)
		}
	}
	var ranks stats.Comparisons
	if l.ranks {
		ranks, _ = stats.RankPairs(l.statsGroups(), outcome.Level) // judged by ranks only what could be
	}
	var cs []outcome.Comparison
	for i, a := range with {
		for _, b := range with[:i] {
			c, _ := t.begin(l, outcome.Pair, a, b)
			l.judge(&c, l.contrast(len(with)*(len(with)-1)/2, term{a, 1}, term{b, -1}), l.everyPair(len(with)))
			l.takeRanks(&c, ranks)
			c.Sentence = c.InWords()
			cs = append(cs, c)
		}
	}
	return cs
}

// interaction compares a combination with what its two parts would give together if each worked as it does by itself: the
// product of their ratios to the base, or on the difference scale the sum of their differences from it.
func (t *trial) interaction(l *layout, x plan.Combination) outcome.Comparison {
	both, base := l.group(x.Both), l.group(x.Base)
	one, other := l.group(x.Parts[0]), l.group(x.Parts[1])
	c, ok := t.begin(l, outcome.Interaction, both, base, one, other)
	c.Parts = x.Parts[:]
	if !ok {
		return c
	}
	l.judge(&c, l.contrast(1, term{both, 1}, term{one, -1}, term{other, -1}, term{base, 1}), single)
	c.Sentence = c.InWords()
	return c
}

// begin fills in what a comparison of a with b is about. ok is false, with the reason as the sentence, when a tray group
// that it needs was not measured.
func (t *trial) begin(l *layout, kind outcome.Kind, a, b group, parts ...group) (c outcome.Comparison, ok bool) {
	c = outcome.Blank()
	c.Day, c.FromDay, c.Quantity, c.Unit, c.Kind, c.Scale = l.Day, l.From, l.Name, l.Unit, kind, l.Scale
	c.Treatment, c.Control, c.Inference = a.treatment, b.treatment, outcome.TheseTraysOnly
	if l.byTrays() {
		c.Inference = outcome.Trays
	}
	c.Mean, c.ControlMean = l.meanOf(a), l.meanOf(b)
	c.TrayNumbers, c.ControlTrays, c.PlugsN, c.ControlPlugs = a.trays(), b.trays(), a.plugs(), b.plugs()
	c.TrayVariation, c.PlugVariation = l.shown(math.Sqrt(l.trayVar)), l.shown(math.Sqrt(l.plugVar))
	if l.OfTrays {
		c.PlugVariation = reading.Missing
	}
	c.Limits = slices.Clone(l.limits)
	for _, g := range append([]group{a, b}, parts...) {
		if len(g.figures) == 0 {
			c.Sentence = t.notCompared(l, c, g)
			return c, false
		}
		c.Limits = append(c.Limits, t.limitsOfGroup(l, g)...)
	}
	return c, true
}
