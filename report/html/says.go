package html

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/wording"
)

// mostSaid is how many clear comparisons the line of a folded quantity names.
const mostSaid = 3

// saysOf says in a few words what a quantity's comparisons answer: what is clear, by name, then how much is not. The shape is that of the
// clearest row.
func saysOf(rows []intervalRow) (words, shape string) {
	var clear []string
	count := map[outcome.Verdict]int{}
	for _, row := range rows {
		v := outcome.Verdict(row.Verdict)
		if v.Clear() {
			than := row.Against
			if row.Parts != "" {
				than = row.Parts + " together"
			}
			clear = append(clear, fmt.Sprintf("%s %s than %s", row.Treatment, v, than))
			continue
		}
		count[v]++
	}
	var parts []string
	if len(clear) > 0 {
		parts = append(parts, strings.Join(clear[:min(len(clear), mostSaid)], ", "))
	}
	if n := len(clear) - mostSaid; n > 0 {
		parts = append(parts, wording.Counted(n, "other clear", "others clear")) // "1 more" would be a verdict here
	}
	for _, v := range []struct {
		verdict outcome.Verdict
		says    string
	}{{outcome.Unclear, "unclear"}, {outcome.TheseTrays, "about these trays only"}, {outcome.NotCompared, "not compared"}} {
		switch n := count[v.verdict]; {
		case n == len(rows) && n == 1:
			parts = append(parts, v.says)
		case n == len(rows) && n > 1:
			parts = append(parts, fmt.Sprintf("all %d %s", n, v.says))
		case n > 0:
			parts = append(parts, fmt.Sprintf("%d %s", n, v.says))
		}
	}
	switch {
	case len(clear) > 0:
		shape = "dot"
	case count[outcome.TheseTrays] > 0:
		shape = "square"
	default:
		shape = "ring"
	}
	words = strings.Join(parts, "; ")
	if !slices.ContainsFunc(rows, func(r intervalRow) bool { return r.Parts == "" }) && len(clear) == 0 {
		words = "against its parts together: " + words
	}
	return words, shape
}

// saysOfDay says how many comparisons a day has, and how many of them are clear.
func saysOfDay(groups []intervalGroup) string {
	rows, clear := 0, 0
	for _, g := range groups {
		rows += len(g.Rows)
		for _, row := range g.Rows {
			if outcome.Verdict(row.Verdict).Clear() {
				clear++
			}
		}
	}
	answered := "none clear"
	if clear > 0 {
		answered = fmt.Sprintf("%d clear", clear)
	}
	return fmt.Sprintf("%s of %s, %s", wording.Counted(rows, "comparison", "comparisons"), wording.Counted(len(groups), "quantity", "quantities"), answered)
}

// takeOutShared moves a limit that several of the day's quantities have to the day, so that it is said once, with the quantities that it is about.
func (b *dayBlock) takeOutShared() {
	about := map[string][]string{}
	var order []string
	for _, g := range b.Groups {
		for _, l := range g.Shared.Limits {
			if len(about[l]) == 0 {
				order = append(order, l)
			}
			about[l] = append(about[l], g.Quantity)
		}
	}
	for _, l := range order {
		if len(about[l]) > 1 {
			b.Limits = append(b.Limits, dayLimit{l, quantitiesOf(about[l], b.Groups)})
		}
	}
	for i := range b.Groups {
		b.Groups[i].Shared.Limits = slices.DeleteFunc(b.Groups[i].Shared.Limits, func(l string) bool { return len(about[l]) > 1 })
	}
}

// quantitiesOf names some of the groups' quantities, or all but those left over where that list is shorter.
func quantitiesOf(some []string, groups []intervalGroup) string {
	var others []string
	for _, g := range groups {
		if !slices.Contains(some, g.Quantity) {
			others = append(others, g.Quantity)
		}
	}
	switch {
	case len(others) == 0:
		return "all quantities"
	case len(others) < 4 && len(others) < len(some):
		return "all quantities but " + wording.List(others)
	}
	return wording.List(some)
}
