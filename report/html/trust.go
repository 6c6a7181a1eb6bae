package html

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/wording"
	"traygauge/report/html/answer"
)

// trustLines says in three lines how far the answer can be trusted: trays, accidents, and that it is one trial.
func trustLines(p Page) []string {
	last := "This is one trial under one set of conditions. Have any claims checked before you publish them. Follow each product’s label and local rules."
	if p.Public { // its readers publish nothing
		last = "This is one trial under one set of conditions, not a claim for any product. Follow each product’s label and local rules."
	}
	return []string{traysWords(p), accidentWords(p), last}
}

// traysWords says how many trays the answer rests on, and how many it would take.
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
		return "The plan has no trays."
	case most == 1:
		return "Each treatment has only one tray, so the effect of a treatment cannot be separated from the tray’s water, position and accidents. The intervals compare these trays only."
	case len(single) > 0:
		words = fmt.Sprintf("Few trays: at most %s per treatment, and only one for %s. The variation of those with one tray is assumed to be like the others’.", wording.Number(most), wording.List(single))
	case least == most:
		words = fmt.Sprintf("%s trays per treatment.", wording.Upper(wording.Number(most)))
	default:
		words = fmt.Sprintf("%s to %s trays per treatment.", wording.Upper(wording.Number(least)), wording.Number(most))
	}
	if takes := mostTaken(p.Compared); takes != "" {
		words += " " + wording.Upper(strings.Replace(takes, "to show ", "to show a difference of ", 1)) + "."
	}
	return words
}

// mostTaken is what it takes to show the difference worth having in the unclear comparison that takes most.
func mostTaken(r *outcome.Result) string {
	words, most := "", 0.0
	for _, c := range answer.Asked(r) {
		if c.TraysNeeded.Known() && float64(c.TraysNeeded) > most {
			words, most = c.TakesWords(), float64(c.TraysNeeded)
		}
	}
	return words
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
		return "The trial has no log, so accidents are unknown."
	case len(said) == 0:
		return "The log records no accident to a single tray."
	case len(said) > 2:
		return strings.Join(said[:2], ". ") + fmt.Sprintf(". The log has %s of this kind.", wording.Counted(len(said)-2, "more entry", "more entries"))
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
		return "Without that tray, all verdicts stay the same"
	}
	return "Without that tray, " + wording.List(changed)
}
