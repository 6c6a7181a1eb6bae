package checks_test

import (
	"image"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A scanner app makes each part of a picture as light as its lightest place is, so that roots and leaves come out as light as paper. What is 0.6 of paper's light,
// as drawn roots are, becomes 0.6^0.2 = 0.9 of it where eight tenths of that are done. Perlite of 0.8 in each plug, wet medium with drops, a phone's own local tone
// mapping, light of 1.6 to 1 along the tray and a white tray do not.
func TestAPhotoFromAScannerAppIsDoubted(t *testing.T) {
	nothing := func(s *synth.Spec) {}
	for _, c := range []struct {
		what    string
		face    card.Face
		change  func(s *synth.Spec)
		scanned float64
	}{
		{"roots, scanned", card.Roots, nothing, 1},
		{"roots, scanned by 0.8", card.Roots, nothing, 0.8},
		{"roots on black cloth, scanned", card.Roots, func(s *synth.Spec) { s.Board = synth.BlackCloth }, 1},
		{"leaves, scanned", card.Shoots, nothing, 1},
		{"roots among perlite", card.Roots, func(s *synth.Spec) { s.Perlite = 25 }, 0},
		{"wet roots, with drops", card.Roots, func(s *synth.Spec) { s.Wet, s.Drops = true, 10 }, 0},
		{"roots under local tone mapping", card.Roots, func(s *synth.Spec) { s.Phone.LocalTone = 0.6 }, 0},
		{"roots in uneven light", card.Roots, func(s *synth.Spec) { s.Light.Gradient, s.Light.GradientTurn = 1.6, 90 }, 0},
		{"roots in a white tray", card.Roots, func(s *synth.Spec) { s.TrayLight = 0.7 }, 0},
		{"leaves", card.Shoots, nothing, 0},
	} {
		s := testtray.Small(c.face)
		c.change(&s)
		r := edited(t, s, 92, func(img *image.NRGBA) image.Image {
			if c.scanned == 0 {
				return img
			}
			return testtray.Scanned(img, c.scanned)
		})
		got := testtray.Concern(r, reading.ContrastChanged)
		if said := strings.Contains(got.Remedy, "scanner app"); said != (c.scanned > 0) {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}
