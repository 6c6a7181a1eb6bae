package compare

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/correct"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// notCompared says why a comparison could not be made: group g has no figure.
func (t *trial) notCompared(l *layout, c outcome.Comparison, g group) string {
	return c.NotComparedWith() + t.whyNone(l, g)
}

// whyNone says why a treatment has no figure.
func (t *trial) whyNone(l *layout, g group) string {
	if len(l.all()) == 0 && l.LeftOut != "" {
		return l.LeftOut
	}
	if len(g.missing) == 0 {
		return fmt.Sprintf("no tray gets %s", g.treatment)
	}
	reasons := t.whyMissing(l, g.missing)
	return strings.Join(reasons, "; ")
}

// whyMissing says why trays have no figure: each reason with its trays.
func (t *trial) whyMissing(l *layout, trays []int) []string {
	var reasons []string
	told := map[int]bool{}
	for _, n := range l.Needs {
		var lack []int
		for _, tray := range trays {
			r, have := t.Photos[reading.Occasion{Day: n.Day, Tray: tray, View: n.View}]
			switch c := r.ExcludedBy(); {
			case told[tray]:
			case !have:
				lack, told[tray] = append(lack, tray), true
			case c != nil:
				told[tray] = true
				reasons = append(reasons, fmt.Sprintf("the photo of tray %d (%s, day %d) is excluded by hand (%s)", tray, n.View.Words(), n.Day, c.Why))
			}
		}
		if len(lack) > 0 {
			reasons = append(reasons, fmt.Sprintf("no usable photo of the %s of %s on day %d%s", n.View.Words(), wording.Trays(lack), n.Day, t.otherDay(n, lack)))
		}
	}
	var nothing []int
	for _, tray := range trays {
		if !told[tray] {
			nothing = append(nothing, tray)
		}
	}
	if len(nothing) > 0 {
		reasons = append(reasons, wording.TraysDo(nothing, "shows", "show")+" no "+l.Name+" that can be measured")
	}
	return reasons
}

// otherDay says so when all of the trays were photographed on another day near by. They are not taken for that day's: plants
// grow by a tenth in a day.
func (t *trial) otherDay(n trayfigure.Need, trays []int) string {
	for away := 1; away <= 2; away++ {
		for _, day := range []int{n.Day + away, n.Day - away} {
			if !slices.ContainsFunc(trays, func(tray int) bool {
				_, have := t.Photos[reading.Occasion{Day: day, Tray: tray, View: n.View}]
				return !have
			}) {
				return fmt.Sprintf(" (only on day %d)", day)
			}
		}
	}
	return ""
}

// limitsOfGroup says what weakens one side of a comparison.
func (t *trial) limitsOfGroup(l *layout, g group) []string {
	var limits []string
	if l.byTrays() && len(g.figures) == 1 {
		one := g.treatment + " has only one tray"
		if len(g.missing) > 0 {
			one = fmt.Sprintf("%s has %s from only one tray", g.treatment, l.Name)
		}
		limits = append(limits, one+", so the variation between its trays is assumed to be like that of the other treatments")
	}
	limits = append(limits, t.whyMissing(l, g.missing)...)
	bare := 0
	var doubtful []string
	for _, f := range g.figures {
		for _, n := range l.Needs {
			r := t.Photos[reading.Occasion{Day: n.Day, Tray: f.Tray, View: n.View}]
			doubtful = append(doubtful, byHand(r)...)
			for _, c := range r.Concerns {
				doubtful = append(doubtful, fmt.Sprintf("the %[2]s photo of tray %[1]d is doubtful (%[3]s)", f.Tray, n.View.Words(), c.Short()))
			}
		}
		if n := l.Needs[len(l.Needs)-1]; l.Needs[0].View == reading.Roots {
			bare += t.leftBare(n.Day, f.Tray)
		}
	}
	if bare > 0 {
		limits = append(limits, fmt.Sprintf("%s of %s not counted: no plant visible from above", wording.Counted(bare, "plug", "plugs"), g.treatment))
	}
	return append(limits, doubtful...)
}

// byHand says which plugs of a photo someone left out, put in or emptied, and why: what was decided after the photo was seen
// belongs to the result.
func byHand(r reading.Reading) []string {
	var said []string
	for _, d := range []struct {
		what  correct.Kind
		words string
	}{{correct.Exclude, "excluded"}, {correct.Include, "included"}, {correct.Empty, "marked empty"}, {correct.Planted, "marked planted"}} {
		n := 0
		var why []string
		for _, c := range r.Corrections {
			if c.What != d.what || c.Plug == "" {
				continue
			}
			n++
			if !slices.Contains(why, c.Why) {
				why = append(why, c.Why)
			}
		}
		if n > 0 {
			said = append(said, fmt.Sprintf("%s of tray %d (%s) %s by hand on that day (%s)", wording.Counted(n, "plug", "plugs"), r.Tray, r.View.Words(), d.words, strings.Join(why, "; ")))
		}
	}
	return said
}

// leftBare counts the plugs that hold medium but no plant.
func (t *trial) leftBare(day, tray int) int {
	bare := t.Bare(day, tray)
	n := 0
	for _, p := range t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Roots}].Plugs {
		if p.State == reading.Planted && bare[p.Name] {
			n++
		}
	}
	return n
}

// limitsOf says what holds for all of a trial's comparisons.
func (t *trial) limitsOf(r *outcome.Result, log []logbook.Entry, public bool) []string {
	limits := []string{}
	if len(t.Days) == 0 {
		return append(append(limits, "there is no usable photo, so no comparison is possible yet"), t.Limits...)
	}
	controlled := slices.ContainsFunc(t.Plan.Treatments, func(x plan.Treatment) bool { return len(x.CompareWith) > 0 })
	if !controlled {
		limits = append(limits, "the plan has no control: add compare_with to its treatments to see the effect of each one")
	}
	var single []string
	replicated := false
	for _, x := range t.Plan.Treatments {
		switch len(t.Plan.TraysOf(x.Name)) {
		case 0:
		case 1:
			single = append(single, x.Name)
		default:
			replicated = true
		}
	}
	switch {
	case !replicated:
		r.MustKnow = append(r.MustKnow, "every treatment has only one tray, so the effect of a treatment cannot be separated from the tray’s water, light and accidents, "+
			"and no result here is about a treatment. Intervals compare these trays only. Trays treated alike often differ by 5 to 20 %")
	case len(single) > 0:
		r.MustKnow = append(r.MustKnow, "only one tray: "+wording.List(single)+". The variation between their trays is assumed to be like that of treatments with several trays")
	}
	limits = append(limits, r.MustKnow...)
	if n := exploratory(r); n > 1 {
		limits = append(limits, fmt.Sprintf("%d comparisons are exploratory, and their p-values are adjusted together (Benjamini & Hochberg). Of those with the verdict more or less, one in twenty may be a false alarm", n))
	}
	if replicated {
		limits = append(limits, "tests assume that trays vary equally in all treatments (for sizes, by the same factor). "+choosingRule,
			"the variation between trays is never assumed to be smaller than the variation of their plugs and photos implies (restricted maximum likelihood, tray variance at least 0)")
	}
	if replicated && slices.ContainsFunc(t.Plan.Trays, func(x plan.Tray) bool { return x.Block+x.Row+x.Column+x.Position > 0 }) {
		limits = append(limits, placeRule)
	}
	if replicated {
		limits = append(limits, outlyingRule)
	}
	if t.Plan.PlacesSeed == 0 {
		limits = append(limits, "the plan does not show that tray positions were assigned at random. If one treatment had better positions, its numbers include that effect. For the next trial, use `traygauge check --draw-places`")
	}
	limits = append(limits, "\"from measuring\" is the largest share of an interval’s squared width that comes from the error bars of the photos. The printed scale is not included, because all trays use the same card. Blank means that no error bar is known")
	limits = append(limits, t.Limits...)
	notes := notesOfTrays(t.Plan, log, public)
	for _, o := range r.Outlying {
		if limits = append(limits, o.Words); o.Quantity == r.Answer.Quantity && o.Day == r.Answer.Day {
			r.MustKnow = append(r.MustKnow, o.Words)
		}
	}
	r.MustKnow = append(r.MustKnow, notes...)
	return append(limits, notes...)
}

// exploratory counts the comparisons that were adjusted together.
func exploratory(r *outcome.Result) int {
	n := 0
	for _, c := range r.Comparisons {
		n = max(n, c.ExploratoryN)
	}
	return n
}

// notesOfTrays repeats what the log says of single trays: an accident of one tray, or a feeding that departs from the plan, is a reason for a
// difference. In public its words are left out and the tray and day remain.
func notesOfTrays(p *plan.Plan, log []logbook.Entry, public bool) []string {
	var notes []string
	for _, e := range log {
		if e.Tray == 0 || e.What == logbook.Feeding || e.Note == "" {
			continue
		}
		said := e.Note
		if public {
			said = "something happened to it that was not part of the treatment"
		}
		notes = append(notes, fmt.Sprintf("tray %d (%s), log of day %d: %s", e.Tray, p.TreatmentOf(e.Tray), p.DayOf(e.When), said))
	}
	for _, d := range logbook.Departures(p, log, public) {
		notes = append(notes, fmt.Sprintf("tray %d (%s), log of day %d: %s", d.Tray, p.TreatmentOf(d.Tray), p.DayOf(d.When), d.Words))
	}
	return notes
}
