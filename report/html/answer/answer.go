// Package answer words the answer of a trial and its comparisons.
//
//	in    a trial's comparisons
//	out   a headline, sentences, figures rounded by one rule, and the comparison to show if there is room for only one
//
// It must not depend on where the text is shown.
package answer

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/wording"
	"traygauge/report"
)

// Headline answers the main question in words, with names: what is clear first, then what is not.
func Headline(r *outcome.Result) string {
	var clear, unclear, single, zero, missing []outcome.Comparison
	has := map[string]int{} // controls by treatment
	asked := Asked(r)
	for _, c := range asked {
		has[c.Treatment]++
	}
	for _, c := range asked {
		switch {
		case c.ReadsZero():
			zero = append(zero, c)
		case c.Verdict.Clear():
			clear = append(clear, c)
		case c.Verdict == outcome.TheseTrays:
			single = append(single, c)
		case c.Verdict == outcome.Unclear:
			unclear = append(unclear, c)
		default:
			missing = append(missing, c)
		}
	}
	quantity := r.Answer.Quantity
	parts := clearest(clear)
	if len(unclear) > 0 {
		on := ""
		if len(clear) == 0 {
			on = " on " + quantity
		}
		parts = append(parts, fmt.Sprintf("%s: no clear effect%s in this trial.", wording.Upper(manyNames(treatmentNames(unclear, has))), on))
	}
	if len(single) > 0 {
		words := fmt.Sprintf("%s: only one tray each, so no conclusion is possible.", wording.Upper(manyNames(treatmentNames(single, has))))
		if len(clear)+len(unclear) == 0 {
			words = traysDiffer(single) + "With one tray per treatment, no conclusion about treatments is possible."
		}
		parts = append(parts, words)
	}
	if len(zero) > 0 && len(parts)+len(missing) == 0 {
		return wording.Upper(quantity) + ": " + outcome.ZeroWords(nil, true)
	}
	if len(zero) > 0 {
		parts = append(parts, wording.Upper(outcome.ZeroWords(treatmentNames(zero, has), false)))
	}
	if len(missing) > 0 && len(parts) == 0 {
		return "No comparison is possible yet."
	}
	if len(missing) > 0 {
		parts = append(parts, wording.Upper(manyNames(treatmentNames(missing, has)))+": not compared.")
	}
	if len(parts) == 0 {
		return "No comparison is possible yet."
	}
	return strings.Join(parts, " ")
}

// traysDiffer returns a sentence each for the first two treatments whose interval shows that their tray differs from its control's.
func traysDiffer(single []outcome.Comparison) string {
	words, said := "", 0
	for _, c := range single {
		differ := c.Lower.Known() && c.Upper.Known() && (c.Lower > 1 || c.Upper < 1)
		if c.Scale == outcome.Ratio && c.Estimate.Known() && differ && said < 2 {
			said++
			words += fmt.Sprintf("The tray of %s had %s the %s of the tray of %s. ", c.Treatment, times(c), c.Quantity, c.Control)
		}
	}
	return words
}

// What a headline holds before it counts the rest.
const (
	mostClear = 3
	mostNames = 6
)

// clearest says the clear differences, of many the largest, and how many more there are.
func clearest(clear []outcome.Comparison) (words []string) {
	rest := 0
	if len(clear) > mostClear {
		away := func(c outcome.Comparison) float64 {
			if c.Scale == outcome.Ratio {
				return math.Abs(math.Log(float64(c.Estimate)))
			}
			return math.Abs(float64(c.Estimate))
		}
		clear = slices.Clone(clear)
		slices.SortStableFunc(clear, func(a, b outcome.Comparison) int { return cmp.Compare(away(b), away(a)) })
		rest, clear = len(clear)-(mostClear-1), clear[:mostClear-1]
	}
	for _, c := range clear {
		words = append(words, Sentence(c))
	}
	if rest > 0 {
		words = append(words, wording.Upper(wording.Number(rest))+" more treatments differ clearly from their controls.")
	}
	return words
}

// manyNames lists names, and of more than a headline holds their number.
func manyNames(names []string) string {
	if len(names) > mostNames {
		return wording.Number(len(names)) + " treatments"
	}
	return wording.List(names)
}

// Asked lists the comparisons with a control that answer the main question.
func Asked(r *outcome.Result) []outcome.Comparison {
	var asked []outcome.Comparison
	for _, c := range r.Comparisons {
		if report.Answered(r, c) && c.Kind == outcome.AgainstControl {
			asked = append(asked, c)
		}
	}
	return asked
}

// Sentence says one clear difference: "Seaweed grew 1.4 times the leaf area of base feed."
func Sentence(c outcome.Comparison) string {
	name := wording.Upper(c.Treatment)
	if c.Scale == outcome.Ratio {
		verb := "grew"
		if !strings.HasSuffix(c.Quantity, "area") && !strings.HasSuffix(c.Quantity, "length") {
			verb = "had"
		}
		return fmt.Sprintf("%s %s %s the %s of %s.", name, verb, times(c), c.Quantity, c.Control)
	}
	word := "above"
	if c.Estimate < 0 {
		word = "below"
	}
	size := strings.TrimLeft(Estimate(c), "+−")
	if of, is := strings.CutPrefix(c.Quantity, "relative growth rate of "); is {
		pace := map[string]string{"above": "faster", "below": "more slowly"}[word]
		part, over, _ := strings.Cut(of, " ")
		if over == "" && c.FromDay != nil {
			over = fmt.Sprintf("since day %d", *c.FromDay)
		}
		return strings.TrimSuffix(fmt.Sprintf("%s: %s grew %s %s than with %s, %s", name, part, size, pace, c.Control, over), ", ") + "."
	}
	return fmt.Sprintf("%s: %s %s %s %s.", name, c.Quantity, size, word, c.Control)
}

// treatmentNames names treatments, with the control where a treatment has several and not all of them are meant.
func treatmentNames(cs []outcome.Comparison, has map[string]int) []string {
	meant := map[string]int{}
	for _, c := range cs {
		meant[c.Treatment]++
	}
	var names []string
	for _, c := range cs {
		name := c.Treatment
		if meant[c.Treatment] < has[c.Treatment] {
			name += " against " + c.Control
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}
