package outcome

import (
	"fmt"
	"strings"

	"traygauge/measure/wording"
)

// Answer is a trial's answer to its main question.
type Answer struct {
	Quantity string  `json:"quantity"`
	Day      int     `json:"day"` // since sowing; -1 when nothing was measured
	Planned  bool    `json:"planned"`
	WorthPct float64 `json:"worth_having_pct"` // the smallest difference worth having: % of a size, points of a share

	Short string       `json:"answer"` // in a sentence or two
	Note  string       `json:"note"`   // what it rests on: named before there were data, or not
	Lines []AnswerLine `json:"lines"`  // one a treatment and control
}

// AnswerLine is the answer for one treatment and one of its controls.
type AnswerLine struct {
	Treatment string  `json:"treatment"`
	Control   string  `json:"control"`
	Verdict   Verdict `json:"verdict"`
	Words     string  `json:"words"`
	Takes     string  `json:"takes,omitempty"` // what it would take to show the difference worth having; of an unclear one
}

// Role says whether a comparison answers the main question.
type Role string

// The roles. Exploratory comparisons are adjusted together.
const (
	Main        Role = "main"
	Exploratory Role = "exploratory"
)

// ReadsZero reports whether all trays of a comparison read 0, so that there is a result but no difference to test.
func (c Comparison) ReadsZero() bool {
	return c.Verdict == NotCompared && c.Estimate == 0 && c.Mean == 0 && c.ControlMean == 0
}

// ZeroWords states that treatments read 0; with every, that all trays do.
func ZeroWords(treatments []string, every bool) string {
	switch {
	case every:
		return "all trays read 0, so there is no difference."
	case len(treatments) == 1:
		return treatments[0] + " reads 0, like its control."
	}
	return wording.List(treatments) + " read 0, like their controls."
}

// Line is the comparison's line in the answer.
func (c Comparison) Line() AnswerLine {
	return AnswerLine{c.Treatment, c.Control, c.Verdict, c.answerWords(), c.TakesWords()}
}

// answerWords is a comparison's line in the answer.
func (c Comparison) answerWords() string {
	if !c.Estimate.Known() {
		why, _ := strings.CutPrefix(c.Sentence, c.NotComparedWith())
		return why
	}
	if c.ReadsZero() {
		return "both read 0"
	}
	words := fmt.Sprintf("%s, %s", c.SizeAlone(), c.Interval())
	if c.Verdict == TheseTrays && !c.SaysNothing() {
		words += " for these trays"
	}
	return words
}

// NotComparedWith returns the start of the sentence for a comparison that could not be made; the reason follows.
func (c Comparison) NotComparedWith() string {
	return fmt.Sprintf("%s: %s not compared with %s: ", c.Treatment, c.Quantity, c.Control)
}

// TakesWords states how many trays per treatment are needed to show the smallest difference worth having, or returns "" if that is unknown.
func (c Comparison) TakesWords() string {
	if !c.TraysNeeded.Known() {
		return ""
	}
	n := fmt.Sprintf("about %.0f", float64(c.TraysNeeded))
	if c.TraysNeeded > MostTraysTried {
		n = fmt.Sprintf("more than %d", MostTraysTried)
	}
	worth := fmt.Sprintf("%s %%", plain(100*(float64(c.WorthHaving)-1)))
	if c.Scale == Difference {
		worth = fmt.Sprintf("%s %s", plain(float64(c.WorthHaving)), PointsOf(c.Unit))
	}
	return fmt.Sprintf("%[2]s trays per treatment are needed to show %[1]s", worth, n)
}

// MostTraysTried is the largest number of trays per treatment that is considered.
const MostTraysTried = 60

// Without is the main question answered without one tray, or without a straight trend along the bench. The answer itself uses all trays.
type Without struct {
	What  Left         `json:"what"`
	Tray  int          `json:"tray,omitempty"`
	Lines []AnswerLine `json:"lines"` // of a tray those with its treatment
	Words string       `json:"words"`
}

// Left says what an answer is without.
type Left string

// What is left out.
const (
	Accident    Left = "tray with an accident"
	OddFeeding  Left = "tray with an unusual feeding"
	OutlyingOne Left = "tray that stands out"
	BenchLine   Left = "straight line along the bench"
)
