package tray

import (
	"math"
	"slices"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// A photo is drawn with a lens that blurs by a Gaussian of known sigma; beside it a pixel is as wide as it is, with a variance of a twelfth. Roots' edges are
// found to be as blurred within a quarter, at any blur.
func TestBlurOnTheTrayIsAsDrawn(t *testing.T) {
	for _, sigma := range []float64{0.8, 1.3, 2} {
		s := synth.Small(card.Roots)
		s.Resize(1100, 1268)
		s.Light.BlurPX = sigma
		s.Plants = map[string]synth.Plant{}
		for _, cell := range s.Tray.Cells() {
			s.Plants[cell] = synth.Plant{Plug: true, RootLengthMM: 500}
		}
		p, _ := testphoto.Drawn(t, s, 1)
		seen, err := scene.FindCard(p, scene.CardOptions{})
		if err != nil {
			t.Fatal(err)
		}
		l := Layout{Rows: s.Tray.Rows, Columns: s.Tray.Columns, LengthMM: s.Tray.LengthMM, WidthMM: s.Tray.WidthMM, PitchMM: s.Tray.PitchMM,
			FirstU: s.Tray.FirstU, FirstV: s.Tray.FirstV, PlugMM: s.Tray.PlugBottomMM}
		got := Blur(seen, l, Grid{})
		slices.Sort(got)
		want := math.Sqrt(sigma*sigma+1./12) / seen.Plane.PxPerMM(seen.TrayPoint(l.LengthMM/2, l.WidthMM/2))
		if middle := got[len(got)/2]; math.Abs(middle/want-1) > 0.25 {
			t.Errorf("blurred by %g px: found %.3f mm, drawn %.3f; the card says %.3f", sigma, middle, want, seen.Edge.BlurMM())
		}
	}
}
