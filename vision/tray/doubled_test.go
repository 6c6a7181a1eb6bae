package tray

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// Half of a picture's light moved by (6, 8) pixels is 10 pixels away from the other half. A part of the tray counts, here its first three columns.
func TestHowFarApartADoubledPictureLies(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, c := range []struct {
			what    string
			columns float64
			want    float64
		}{{"not doubled", 0, 0}, {"all of it", 4, 10}, {"three columns", 3, 10}} {
			s := synth.Small(face)
			s.Resize(1100, 1268)
			s.Plants = map[string]synth.Plant{}
			for _, cell := range s.Tray.Cells() {
				s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 14}
			}
			img, truth, err := synth.Draw(s)
			if err != nil {
				t.Fatal(err)
			}
			once, err := scene.FindCard(testphoto.Stored(t, img, truth, 1), scene.CardOptions{})
			if err != nil {
				t.Fatal(err)
			}
			img = testphoto.Nudged(img, 6, 8, func(x, y int) bool {
				u, v := once.TrayUV(once.Plane.ToMM(raster.Px{X: float64(x), Y: float64(y)}))
				return v > 0 && u < s.Tray.FirstU+(c.columns-0.5)*s.Tray.PitchMM
			})
			found, err := scene.FindCard(testphoto.Stored(t, img, truth, 1), scene.CardOptions{})
			if err != nil {
				t.Fatal(err)
			}
			times, px := Doubled(found, tray12(), Grid{})
			t.Logf("%v, %s: %.2f times, %.1f px", face, c.what, times, px)
			if (times > 1.4) != (c.want > 0) || c.want > 0 && math.Abs(px-c.want) > 1 {
				t.Errorf("%v, %s: %.2f times the usual, %.1f pixels apart, want %g", face, c.what, times, px, c.want)
			}
		}
	}
}
