package html

import (
	"cmp"
	"slices"
)

// dotPlot is the drawing of all treatments against their controls in the main question's quantity.
type dotPlot struct {
	intervalGroup
	Less, More string // what its ends mean
	Note       string // how to read it
}

// answerPlot draws the comparisons with controls of the main question, the largest first; nil where there is none.
func answerPlot(p Page) *dotPlot {
	groups := mainGroup(p)
	if len(groups) == 0 {
		return nil
	}
	g := groups[0]
	g.Rows = slices.DeleteFunc(slices.Clone(g.Rows), func(r intervalRow) bool { return r.Parts != "" || r.pair })
	if len(g.Rows) == 0 {
		return nil
	}
	g.Says, g.Shape = saysOf(g.Rows)
	slices.SortStableFunc(g.Rows, func(a, b intervalRow) int { return cmp.Compare(b.estimate, a.estimate) }) // what has none comes last
	ends := [2]string{"Less", "More"}
	if !g.Ratio {
		ends = [2]string{"Lower", "Higher"}
	}
	note := "Dots are estimates. Bars are 95 % intervals: all values that fit the data of this trial. If a bar crosses the vertical line, the result is unclear."
	if !slices.ContainsFunc(g.Rows, func(r intervalRow) bool { return r.Drawn && r.Shape != "square" }) {
		note = "Squares are estimates and bars are 95 % intervals. Both are about these trays only, not about the treatments."
	}
	if g.Ratio {
		note += " 1 × means the same as the control."
	}
	return &dotPlot{g, ends[0] + " " + g.Quantity + " than the control", ends[1], note}
}
