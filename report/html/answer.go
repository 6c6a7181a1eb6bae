package html

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/wording"
	"traygauge/report"
)

// headline answers the main question in words, with names: what is clear first, then what is not.
func headline(r *outcome.Result) string {
	var clear, unclear, single, missing []outcome.Comparison
	has := map[string]int{} // controls by treatment
	asked := askedFor(r)
	for _, c := range asked {
		has[c.Treatment]++
	}
	for _, c := range asked {
		switch c.Verdict {
		case outcome.More, outcome.Less:
			clear = append(clear, c)
		case outcome.TheseTrays:
			single = append(single, c)
		case outcome.Unclear:
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
		words := fmt.Sprintf("%s: one tray each, so nothing can be claimed.", wording.Upper(manyNames(treatmentNames(single, has))))
		if len(clear)+len(unclear) == 0 {
			words = traysDiffer(single) + "One tray a treatment: nothing can be claimed of a treatment."
		}
		parts = append(parts, words)
	}
	if len(missing) > 0 && len(parts) == 0 {
		return "Nothing could be compared yet."
	}
	if len(missing) > 0 {
		parts = append(parts, wording.Upper(manyNames(treatmentNames(missing, has)))+": not compared.")
	}
	if len(parts) == 0 {
		return "Nothing could be compared yet."
	}
	return strings.Join(parts, " ")
}

// traysDiffer says of the first treatments by how much their trays differ.
func traysDiffer(single []outcome.Comparison) string {
	words := ""
	for _, c := range single[:min(2, len(single))] {
		if c.Scale == outcome.Ratio && c.Estimate.Known() {
			words += fmt.Sprintf("The tray of %s had %s the %s of that of %s. ", c.Treatment, timesWords(c), c.Quantity, c.Control)
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
		words = append(words, clearWords(c))
	}
	if rest > 0 {
		words = append(words, wording.Upper(countWord(rest))+" more differ clearly from their controls.")
	}
	return words
}

// manyNames lists names, and of more than a headline holds their number.
func manyNames(names []string) string {
	if len(names) > mostNames {
		return countWord(len(names)) + " treatments"
	}
	return wording.List(names)
}

// askedFor lists the comparisons with a control that answer the main question.
func askedFor(r *outcome.Result) []outcome.Comparison {
	var asked []outcome.Comparison
	for _, c := range r.Comparisons {
		if report.Answered(r, c) && c.Kind == outcome.AgainstControl {
			asked = append(asked, c)
		}
	}
	return asked
}

// clearWords says one clear difference: "Seaweed grew 1.4 times the leaf area of base feed."
func clearWords(c outcome.Comparison) string {
	name := wording.Upper(c.Treatment)
	if c.Scale == outcome.Ratio {
		verb := "grew"
		if !strings.HasSuffix(c.Quantity, "area") && !strings.HasSuffix(c.Quantity, "length") {
			verb = "had"
		}
		return fmt.Sprintf("%s %s %s the %s of %s.", name, verb, timesWords(c), c.Quantity, c.Control)
	}
	word := "above"
	if c.Estimate < 0 {
		word = "below"
	}
	size := strings.TrimLeft(estimateWords(c), "+−")
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
	slices.SortStableFunc(g.Rows, func(a, b intervalRow) int {
		switch x, y := a.estimate, b.estimate; {
		case math.IsNaN(x) || math.IsNaN(y):
			return boolToInt(math.IsNaN(x)) - boolToInt(math.IsNaN(y))
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	ends := [2]string{"Less", "More"}
	if !g.Ratio {
		ends = [2]string{"Lower", "Higher"}
	}
	note := "A dot is the estimate, a bar the 95 % interval: the values that fit this trial. A bar that crosses the upright line is unclear."
	if !slices.ContainsFunc(g.Rows, func(r intervalRow) bool { return r.Drawn && r.Shape != "square" }) {
		note = "A square is the estimate, a bar its 95 % interval. Both are about these trays, not about the treatments."
	}
	if g.Ratio {
		note += " 1 × is as much as the control."
	}
	return &dotPlot{g, ends[0] + " " + g.Quantity + " than the control", ends[1], note}
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// trustLines says in three lines how far the answer can be trusted: trays, accidents, and that it is one trial.
func trustLines(p Page) []string {
	return []string{traysWords(p), accidentWords(p),
		"It is one trial under one set of conditions. Have claims checked before you publish them; each product’s label and local rules come first."}
}

// traysWords says how many trays stand behind the answer, and how many would have to.
func traysWords(p Page) string {
	least, most := 0, 0
	var single []string
	for _, t := range p.Trial.Plan.Treatments {
		n := len(p.Trial.Plan.TraysOf(t.Name))
		if n == 0 {
			continue
		}
		if least == 0 || n < least {
			least = n
		}
		most = max(most, n)
		if n == 1 {
			single = append(single, t.Name)
		}
	}
	words := ""
	switch {
	case most == 0:
		return "No tray is in the plan."
	case most == 1:
		return "Each treatment has one tray: its water, its position and its accidents cannot be separated from its treatment. The intervals are between these trays."
	case len(single) > 0:
		words = fmt.Sprintf("Few trays: at most %s a treatment, and one for %s, whose trays are assumed to vary as the others do.", countWord(most), wording.List(single))
	case least == most:
		words = fmt.Sprintf("%s trays a treatment.", wording.Upper(countWord(most)))
	default:
		words = fmt.Sprintf("%s to %s trays a treatment.", wording.Upper(countWord(least)), countWord(most))
	}
	if takes := mostTaken(p.Compared); takes != "" {
		words += " " + wording.Upper(strings.Replace(takes, "showing ", "showing a difference of ", 1)) + "."
	}
	return words
}

// mostTaken is what it takes to show the difference worth having in the unclear comparison that takes most.
func mostTaken(r *outcome.Result) string {
	words, most := "", 0.0
	for _, c := range askedFor(r) {
		if c.TraysNeeded.Known() && float64(c.TraysNeeded) > most {
			words, most = c.TakesWords(), float64(c.TraysNeeded)
		}
	}
	return words
}

func countWord(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// accidentWords says what the log notes of single trays, and whether the answer is another one without them.
func accidentWords(p Page) string {
	var said []string
	told := map[int]bool{} // trays
	for _, e := range eventsOf(p) {
		if e.Tray == 0 || !e.told {
			continue
		}
		words := fmt.Sprintf("tray %d (%s), day %d: %s", e.Tray, p.Trial.Plan.TreatmentOf(e.Tray), e.Day, e.Says)
		i := slices.IndexFunc(p.Compared.Without, func(w outcome.Without) bool { return w.Tray == e.Tray })
		if i >= 0 && !told[e.Tray] {
			words += ". " + changedWords(p.Compared, p.Compared.Without[i])
		}
		told[e.Tray] = true
		said = append(said, wording.Upper(strings.TrimSuffix(words, ".")))
	}
	switch {
	case p.Log == nil:
		return "There is no log beside the trial: accidents are not known."
	case len(said) == 0:
		return "The log notes no accident of a single tray."
	case len(said) > 2:
		return strings.Join(said[:2], ". ") + fmt.Sprintf(". The log notes %d more of single trays, listed below.", len(said)-2)
	}
	return strings.Join(said, ". ") + "."
}

// changedWords says which verdicts are others without a tray.
func changedWords(r *outcome.Result, w outcome.Without) string {
	var changed []string
	for _, l := range w.Lines {
		for _, was := range r.Answer.Lines {
			if was.Treatment == l.Treatment && was.Control == l.Control && was.Verdict != l.Verdict {
				is := "is " + string(l.Verdict)
				if l.Verdict == outcome.NotCompared {
					is = "cannot be compared"
				}
				changed = append(changed, fmt.Sprintf("%s against %s %s", l.Treatment, l.Control, is))
			}
		}
	}
	if len(changed) == 0 {
		return "Leaving that tray out changes no verdict"
	}
	return "Without it, " + wording.List(changed)
}
