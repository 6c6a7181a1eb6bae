package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A card printed at 97 % makes 50 mm of tray 51.5 mm and areas 1/0.97² = 1.063 of what they are; one at 90 % or 110 % is to be taken again. At
// 97 % its ruler's 100 mm measure 97.
func TestThePitchTellsAWrongPrint(t *testing.T) {
	for _, c := range []struct {
		face    card.Face
		print   float64
		verdict reading.Verdict
		words   []string
	}{
		{card.Roots, 1, reading.VerdictGood, nil},
		{card.Roots, 0.99, reading.VerdictGood, nil},
		{card.Roots, 0.97, reading.VerdictDoubt, []string{"51.", "50 mm", "more", "1.5 %", "measures 97.", "lower than the plugs by 1", "6 % too large"}},
		{card.Shoots, 0.97, reading.VerdictDoubt, []string{"more", "too large"}},
		{card.Roots, 1.03, reading.VerdictDoubt, []string{"48.", "less", "higher", "6 % too small"}},
		{card.Roots, 0.9, reading.VerdictRetake, []string{"measure the card’s ruler", "take the photo again"}},
		{card.Shoots, 1.1, reading.VerdictRetake, []string{"less", "higher"}},
	} {
		s := testtray.Small(c.face)
		s.PrintScale = c.print
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		got := testtray.Concern(r, reading.ScaleOff)
		if r.Verdict() != c.verdict || (got.Kind != "") != (c.verdict != reading.VerdictGood) {
			t.Errorf("%v printed at %g: %s (%s)", c.face, c.print, r.Verdict(), fmt.Sprint(testtray.Kinds(r)))
		}
		if c.verdict == reading.VerdictRetake && len(r.Plugs) > 0 {
			t.Errorf("%v printed at %g: %d plugs are kept of a photo that cannot be used", c.face, c.print, len(r.Plugs))
		}
		for _, word := range c.words {
			if !strings.Contains(got.Words+got.Remedy+got.Bias, word) {
				t.Errorf("%v printed at %g: %+v lacks %q", c.face, c.print, got, word)
			}
		}
	}
}

// Three trays of a day whose plugs are all 1.2 to 2 % too wide apart share one thing, the card: 100 mm of ruler over the mean of 1.015 is
