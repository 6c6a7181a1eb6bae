package compare

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/logbook"
	"traygauge/measure/reading"
)

// without answers the question again without each tray that the log notes something of or that was not fed by the plan, without each that stands
// out, and with a straight line along the bench taken off where that is possible and trays are not compared within blocks, rows or columns anyway.
func (t *trial) without(readings []reading.Reading, log []logbook.Entry, r *outcome.Result) []outcome.Without {
	list := []outcome.Without{}
	for _, e := range log {
		if e.Tray != 0 && e.What != logbook.Feeding && e.Note != "" {
			list = append(list, outcome.Without{What: outcome.Accident, Tray: e.Tray})
		}
	}
	for _, d := range logbook.Departures(t.Plan, log, false) {
		list = append(list, outcome.Without{What: outcome.OddFeeding, Tray: d.Tray})
	}
	for _, tray := range r.StandsOut() {
		list = append(list, outcome.Without{What: outcome.OutlyingOne, Tray: tray})
	}
	var done []outcome.Without
	for _, w := range list {
		if slices.ContainsFunc(done, func(d outcome.Without) bool { return d.Tray == w.Tray }) {
			continue
		}
		rest := gather(t.Plan, slices.DeleteFunc(slices.Clone(readings), func(r reading.Reading) bool { return r.Tray == w.Tray }))
		for _, l := range rest.answerLines(r.Answer, rest.placesOf) {
			if of := t.Plan.TreatmentOf(w.Tray); l.Treatment == of || l.Control == of {
				w.Lines = append(w.Lines, l)
			}
		}
		w.Words = fmt.Sprintf("Without tray %d: %s", w.Tray, linesInWords(w.Lines))
		done = append(done, w)
	}
	list = slices.DeleteFunc(done, func(w outcome.Without) bool { // a tray without which no line changes had no part in the answer
		return !slices.ContainsFunc(w.Lines, func(l outcome.AnswerLine) bool { return !slices.Contains(r.Answer.Lines, l) })
	})
	if w, ok := t.withoutBenchLine(r.Answer); ok {
		list = append(list, w)
	}
	return append([]outcome.Without{}, list...)
}

// withoutBenchLine answers with a straight line along the bench taken off. Of many answers only those are in words that it changes.
func (t *trial) withoutBenchLine(with outcome.Answer) (outcome.Without, bool) {
	plain := t.layoutOf(trayfigure.QuantityCalled(with.Quantity), with.Day)
	if plain.model != nil || t.alongBench(plain) == nil {
		return outcome.Without{}, false
	}
	w := outcome.Without{What: outcome.BenchLine, Lines: t.answerLines(with, t.alongBench)}
	told, others := w.Lines, ""
	if len(told) > mostInWords {
		told, others = nil, "all other verdicts stay the same"
		for i, l := range t.answerLines(with, t.placesOf) {
			if l.Verdict != w.Lines[i].Verdict {
				told = append(told, w.Lines[i])
			}
		}
	}
	parts := slices.DeleteFunc([]string{linesInWords(told), others}, func(s string) bool { return s == "" })
	w.Words = "With a straight trend along the bench removed: " + strings.Join(parts, "; ")
	return w, true
}

// mostInWords is how many answers are put into one sentence.
const mostInWords = 8

func linesInWords(lines []outcome.AnswerLine) string {
	var words []string
	for _, l := range lines {
		words = append(words, fmt.Sprintf("%s against %s %s, %s", l.Treatment, l.Control, l.Verdict, l.Words))
	}
	return strings.Join(words, "; ")
}

// answerLines answers the main question by a model of where the trays stand.
func (t *trial) answerLines(a outcome.Answer, model func(*layout) *model) []outcome.AnswerLine {
	l := t.layoutBy(trayfigure.QuantityCalled(a.Quantity), a.Day, model)
	var lines []outcome.AnswerLine
	for _, treatment := range t.Plan.Treatments {
		for _, control := range treatment.CompareWith {
			c := t.againstControl(l, treatment.Name, control)
			lines = append(lines, c.Line())
		}
	}
	return lines
}
