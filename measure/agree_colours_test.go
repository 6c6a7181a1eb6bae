package measure

import (
	"math"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A vivid mode makes the card's colours 1.6 times as strong; a filter makes them pale; a picture that is cut off at code 250 is as overexposed as one
// cut off at 255; greys that run into each other cannot undo a curve. A usual phone's curve is none of these.
func TestTheCardsColoursAndGreysTellWhatWasDoneToThePicture(t *testing.T) {
	for _, c := range []struct {
		what   string
		change func(*synth.Spec)
		kind   reading.Kind
		words  string
	}{
		{"nothing", func(*synth.Spec) {}, "", ""},
		{"usual phone", func(s *synth.Spec) { s.Phone = synth.Phone{Contrast: 0.5, Saturation: 1.2, Sharpening: 0.3} }, "", ""},
		{"vivid", func(s *synth.Spec) { s.Phone.Saturation = 1.6 }, reading.ColoursChanged, "1.5 times"},
		{"pale", func(s *synth.Spec) { s.Phone.Saturation = 0.45 }, reading.ColoursChanged, "0.4"},
		{"cut off at 250", func(s *synth.Spec) { s.Light.Level *= 1.4; s.Phone.Top = 250 }, "too bright", "overexposed"},
		{"cut off at 255", func(s *synth.Spec) { s.Light.Level *= 1.4 }, "too bright", "overexposed"},
		{"two greys as white as paper", func(s *synth.Spec) { s.Light.Level *= 1.9; s.Phone.Top = 235 }, "too bright", "overexposed"},
	} {
		s := smallTray(card.Shoots)
		for name := range s.Plants {
			if name > "A" && name != "A1" && name != "B2" && name != "C3" {
				delete(s.Plants, name) // quick to draw
			}
		}
		c.change(&s)
		r, _ := measured(t, s, planFor(s.Tray, 0), true)
		if kinds := concernKinds(r); kinds != string(c.kind) || !strings.Contains(concern(r, c.kind).Words, c.words) {
			t.Errorf("%s: %+v, want %q", c.what, r.Concerns, c.kind)
		}
	}
}

// A colour space that was lost turns the card's green by 8° (Adobe RGB (1998) read as sRGB): among others of the same card that shows. The first
// of a trial, and four that differ by 2°, are not doubted.
func TestAPhotoWhoseCardDiffersFromTheOthersIsDoubted(t *testing.T) {
	for _, c := range []struct {
		green, chroma []float64
		told          bool // of the first
	}{
		{[]float64{-8, 0, 1, 0, -1}, []float64{0.87, 1, 1, 1, 1}, true},
		{[]float64{0, 0, 1, 0, -1}, []float64{1.4, 1, 1, 1, 1}, true},
		{[]float64{-2, 0, 1, 0, -1}, []float64{0.9, 1, 1, 1, 1}, false},
		{[]float64{-8, -8, -7, -8, -8}, []float64{0.87, 0.87, 0.87, 0.87, 0.87}, false},
		{[]float64{-8, 0}, []float64{0.87, 1}, false},
	} {
		var readings []reading.Reading
		for i := range c.green {
			r := photoOf(t, string(rune('a'+i)), i+1, 14, "roots")
			r.CardGreenOffDeg, r.CardChroma = reading.Number(c.green[i]), reading.Number(c.chroma[i])
			readings = append(readings, r)
		}
		all := Together(inventedPlan(t), readings)
		for i, r := range all {
			if has(&r, reading.ColoursDiffering) != (c.told && i == 0) {
				t.Errorf("%+v: photo %d: %+v", c, i, r.Concerns)
			}
		}
	}
	if got := stats.Median([]float64{3, 1, 2, 10}); math.Abs(got-2.5) > 1e-12 {
		t.Errorf("median %g", got)
	}
}
