package measure

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// smallTray draws a tray of twelve, quick to draw and to measure.
func smallTray(face card.Face) synth.Spec {
	s := synth.Small(face)
	s.Resize(1100, 1268)
	s.Light.BlurPX = 0.5 // few pixels for a mm: they must be sharp ones
	s.Plants = map[string]synth.Plant{}
	for _, cell := range s.Tray.Cells() {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 14}
	}
	return s
}

// kindsIn lists the kinds of a reading's concerns.
func kindsIn(r reading.Reading) (kinds []reading.Kind) {
	for _, c := range r.Concerns {
		kinds = append(kinds, c.Kind)
	}
	return kinds
}

// concernKinds names them: "no tag, blurred".
func concernKinds(r reading.Reading) string {
	return strings.ReplaceAll(strings.Trim(fmt.Sprintf("%q", kindsIn(r)), `[]"`), `" "`, ", ")
}

func concern(r reading.Reading, kind reading.Kind) reading.Concern {
	for _, c := range r.Concerns {
		if c.Kind == kind {
			return c
		}
	}
	return reading.Concern{}
}

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
		{card.Roots, 0.9, reading.VerdictRetake, []string{"measure the card's ruler", "take the photo again"}},
		{card.Shoots, 1.1, reading.VerdictRetake, []string{"less", "higher"}},
	} {
		s := smallTray(c.face)
		s.PrintScale = c.print
		r, _ := measured(t, s, planFor(s.Tray, 0), true)
		got := concern(r, reading.ScaleOff)
		if r.Verdict() != c.verdict || (got.Kind != "") != (c.verdict != reading.VerdictGood) {
			t.Errorf("%v printed at %g: %s (%s)", c.face, c.print, r.Verdict(), concernKinds(r))
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
// 98.5 mm. Two photos, or one of three that is right, say nothing.
func TestADaysPhotosTogetherTellThePrint(t *testing.T) {
	p := planFor(synth.Tray12, 0)
	photos := func(ratios ...float64) (all []reading.Reading) {
		for i, ratio := range ratios {
			r := photoOf(t, string(rune('a'+i)), i+1, 14, "roots")
			r.PitchRatio = reading.Number(ratio)
			all = append(all, r)
		}
		return all
	}
	got := printOff(p, photos(1.012, 1.013, 1.02))
	if len(got) != 1 || len(got[0].Photos) != 3 || !strings.Contains(got[0].Words, "1.5 %") || !strings.Contains(got[0].Remedy, "98.5") {
		t.Errorf("three photos: %+v", got)
	}
	for _, ratios := range [][]float64{{1.012, 1.02}, {1.012, 1.02, 1}, {1.012, 1.02, 0.985}, {1.002, 1.003, 1.004}} {
		if got := printOff(p, photos(ratios...)); len(got) > 0 {
			t.Errorf("%v: %+v", ratios, got)
		}
	}
}
