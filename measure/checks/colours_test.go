package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
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
		s := testtray.Small(card.Shoots)
		for name := range s.Plants {
			if name > "A" && name != "A1" && name != "B2" && name != "C3" {
				delete(s.Plants, name) // quick to draw
			}
		}
		c.change(&s)
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		if kinds := fmt.Sprint(testtray.Kinds(r)); strings.Trim(kinds, "[]") != string(c.kind) || !strings.Contains(testtray.Concern(r, c.kind).Words, c.words) {
			t.Errorf("%s: %+v, want %q", c.what, r.Concerns, c.kind)
		}
	}
}
