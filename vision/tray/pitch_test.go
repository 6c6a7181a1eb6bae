package tray

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// tray12 is the small tray that scenes show, as the finder takes it.
func tray12() Layout {
	s := synth.Tray12
	return Layout{Rows: s.Rows, Columns: s.Columns, LengthMM: s.LengthMM, WidthMM: s.WidthMM, PitchMM: s.PitchMM,
		FirstU: s.FirstU, FirstV: s.FirstV, PlugMM: s.PlugBottomMM}
}

// A card printed at 97 % whose ruler is taken for 100 mm makes the tray 1/0.97 as large. Two of twelve cells have no plug.
func TestThePitchByTheCardIsAsFarOffAsItsPrint(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, print := range []float64{1, 0.985, 0.97, 0.9, 1.1} {
			s := synth.Small(face)
			s.Resize(850, 980)
			s.PrintScale = print
			s.Plants = map[string]synth.Plant{}
			for _, cell := range s.Tray.Cells() {
				if cell != "A3" && cell != "C1" {
					s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 12}
				}
			}
			photo, _ := testphoto.Drawn(t, s, 1)
			found, err := scene.FindCard(photo, scene.CardOptions{RuleMM: 100})
			if err != nil {
				t.Fatal(err)
			}
			m := NewMap(found, tray12())
			got := m.Pitch(m.FitGrid(), nil)
			off := got.Ratio*print - 1
			t.Logf("%v at %g: %.4f ± %.4f, off by %+.2f %%", face, print, got.Ratio, got.U, 100*off)
			if !got.Seen() || math.Abs(off) > 0.01 || math.Abs(off) > 4*got.U {
				t.Errorf("%v, card printed at %g: pitch %+v, want %.4f", face, print, got, 1/print)
			}
		}
	}
}
