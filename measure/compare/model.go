package compare

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/stats/leastsquares"
	"traygauge/measure/wording"
)

// model is what trays' figures are taken to consist of beside their treatment: the blocks, rows or columns of the bench that they stand in, or
// a straight line along it. Treatments are then compared by least squares with treatment and place effects, within the places (intra-block
// analysis, Cochran & Cox 1957, Experimental Designs, ch. 9 to 13; John & Williams 1995, Cyclic and Computer Generated Designs, ch. 1). In
// complete blocks that is Fisher's analysis (1935, The Design of Experiments, ch. 4), and differences are those of plain means.
type model struct {
	linear  *leastsquares.Model
	effects int    // columns in front of the treatments'
	words   string // what is allowed for, as in "6 blocks"
}

// leastDF is how many degrees of freedom the trays' scatter must have left before places are allowed for, but for complete blocks, within which
// trays were drawn by lot. With fewer, what an interval loses by its t is more than it gains (Cochran & Cox 1957, ch. 4, on small squares).
const leastDF = 3

// placeRule is the rule by which placesOf chooses, in words. It looks at where trays stand and never at what they show.
const placeRule = "Treatments are compared within the plan’s blocks, rows and columns, as far as treatments stay comparable and 3 degrees of freedom remain, " +
	"and always within complete blocks. If the plan gives only positions, the main question is also answered with a straight trend along the bench removed"

// place is one of the ways in which the plan says where a tray stands.
type place struct {
	name string // of several
	of   func(plan.Tray) int
}

var (
	blocks  = place{"blocks", func(t plan.Tray) int { return t.Block }}
	rows    = place{"rows", func(t plan.Tray) int { return t.Row }}
	columns = place{"columns", func(t plan.Tray) int { return t.Column }}
	along   = place{"places", func(t plan.Tray) int { return t.Position }}
)

// placesOf returns the model that a layout is compared by, nil for trays that stand anywhere.
func (t *trial) placesOf(l *layout) *model {
	for _, kinds := range [][]place{{blocks, rows, columns}, {blocks, rows}, {blocks, columns}, {rows, columns}, {blocks}, {rows}, {columns}} {
		if m := t.within(l, kinds); m != nil && m.linear.DF >= leastDF {
			return m
		}
	}
	if t.complete(l) {
		return t.within(l, []place{blocks})
	}
	return nil
}

// within returns the model with an effect for each of the places of some kinds, nil where a tray's place is not known, there is but one, or
// treatments cannot be compared within them.
func (t *trial) within(l *layout, kinds []place) *model {
	var effects [][]float64
	var words []string
	for _, kind := range kinds {
		at, ok := t.whereabouts(l, kind)
		levels := slices.Compact(slices.Sorted(slices.Values(at)))
		if !ok || len(levels) < 2 {
			return nil
		}
		for _, level := range levels[1:] { // effects add up to 0
			x := make([]float64, len(at))
			for i := range at {
				x[i] = indicator(at[i] == level) - indicator(at[i] == levels[0])
			}
			effects = append(effects, x)
		}
		words = append(words, fmt.Sprintf("%d %s", len(levels), kind.name))
	}
	return l.modelWith(effects, wording.List(words))
}

// alongBench returns the model with a straight line along the bench: along its rows and columns where the plan gives these, else along the
// places. nil where it does not say or too few degrees of freedom are left.
func (t *trial) alongBench(l *layout) *model {
	for _, kinds := range [][]place{{rows, columns}, {along}} {
		var effects [][]float64
		for _, kind := range kinds {
			at, ok := t.whereabouts(l, kind)
			if !ok {
				break
			}
			x := make([]float64, len(at))
			for i := range at {
				x[i] = float64(at[i])
			}
			middle := arithmetic.Mean(x)
			for i := range x {
				x[i] -= middle
			}
			effects = append(effects, x)
		}
		if len(effects) < len(kinds) {
			continue
		}
		if m := l.modelWith(effects, "a straight line along the bench"); m != nil && m.linear.DF >= leastDF && !slices.Contains(m.linear.Kept, false) {
			return m
		}
	}
	return nil
}

// whereabouts returns where the trays of a layout stand; ok is false where that of one is not known.
func (t *trial) whereabouts(l *layout, kind place) (at []int, ok bool) {
	of := map[int]int{}
	for _, tray := range t.Plan.Trays {
		of[tray.Number] = kind.of(tray)
	}
	for _, f := range l.all() {
		if of[f.Tray] == 0 {
			return nil, false
		}
		at = append(at, of[f.Tray])
	}
	return at, len(at) > 0
}

// modelWith returns the model of a mean, effects of places and the treatments' effects, which add up to 0; nil where the treatments cannot be
// told from the places or no scatter is left.
func (l *layout) modelWith(effects [][]float64, words string) *model {
	all := l.all()
	ones := make([]float64, len(all))
	for i := range ones {
		ones[i] = 1
	}
	cols := append([][]float64{ones}, effects...)
	for _, treatment := range l.measuredGroups()[1:] {
		x := l.onTreatment(treatment)
		cols = append(cols, x)
	}
	m := &model{leastsquares.New(cols), 1 + len(effects), words}
	if m.linear.DF < 1 || slices.Contains(m.linear.Kept[m.effects:], false) {
		return nil
	}
	return m
}

// onTreatment is a treatment's column: 1 for its trays, −1 for those of the first treatment, 0 for all others.
func (l *layout) onTreatment(treatment string) []float64 {
	var x []float64
	first := l.measuredGroups()[0]
	for _, g := range l.groups {
		for range g.figures {
			x = append(x, indicator(g.treatment == treatment)-indicator(g.treatment == first))
		}
	}
	return x
}

// measuredGroups names the treatments that have figures.
func (l *layout) measuredGroups() []string {
	var names []string
	for _, g := range l.groups {
		if len(g.figures) > 0 {
			names = append(names, g.treatment)
		}
	}
	return names
}

// all lists the figures of all trays, by treatment.
func (l *layout) all() []trayfigure.Figure {
	var all []trayfigure.Figure
	for _, g := range l.groups {
		all = append(all, g.figures...)
	}
	return all
}

// weights returns how much each tray's figure counts in a weighted sum of treatments' means, in the order of all. Without a model a mean is the
// plain one over the treatment's trays.
func (l *layout) weights(terms ...term) []float64 {
	if l.model == nil {
		var w []float64
		for _, g := range l.groups {
			weight := 0.0
			for _, t := range terms {
				if t.group.treatment == g.treatment {
					weight += t.weight / float64(len(g.figures))
				}
			}
			w = append(w, slices.Repeat([]float64{weight}, len(g.figures))...)
		}
		return w
	}
	want := make([]float64, len(l.model.linear.Kept))
	names := l.measuredGroups()
	for _, t := range terms {
		want[0] += t.weight
		for j := range names[1:] {
			want[l.model.effects+j] += t.weight * (indicator(t.group.treatment == names[j+1]) - indicator(t.group.treatment == names[0]))
		}
	}
	return l.model.linear.Weights(want)
}

// complete reports whether every treatment with figures has exactly one tray in each block.
func (t *trial) complete(l *layout) bool {
	at, ok := t.whereabouts(l, blocks)
	if !ok {
		return false
	}
	seen := map[string]bool{}
	i := 0
	for _, g := range l.groups {
		for range g.figures {
			key := fmt.Sprint(at[i], " ", g.treatment)
			if i++; seen[key] {
				return false
			}
			seen[key] = true
		}
	}
	levels := slices.Compact(slices.Sorted(slices.Values(at)))
	return len(levels) > 1 && len(seen) == len(levels)*len(l.measuredGroups())
}

// placeWords says what a layout's comparisons allow for.
func (t *trial) placeWords(l *layout) string {
	switch {
	case l.model.words == "":
		return ""
	case t.complete(l) && !strings.Contains(l.model.words, " and "):
		return fmt.Sprintf("trays stand in %s, each with all treatments, so treatments are compared within them", l.model.words)
	}
	return fmt.Sprintf("treatments are compared within the %s by least squares, and their means are adjusted for these", l.model.words)
}

func indicator(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
