package checks_test

import (
	"image"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// Red that is smaller and blue that is larger by 1.5 px in a picture's corners lie 3 px apart there. Thin pale roots get red and blue rims, which look brown. Of leaves, which are wider,
// nothing changes.
func TestRedAndBlueFringesOnRootsAreDoubted(t *testing.T) {
	for _, c := range []struct {
		what    string
		face    card.Face
		px      float64
		doubted bool
	}{
		{"roots, 1.5 px", card.Roots, 1.5, true},
		{"roots, 2.5 px", card.Roots, 2.5, true},
		{"roots, a quarter of a pixel", card.Roots, 0.25, false},
		{"roots", card.Roots, 0, false},
		{"leaves, 1.5 px", card.Shoots, 1.5, false},
	} {
		s := testtray.Small(c.face)
		r := edited(t, s, 92, func(img *image.NRGBA) image.Image { return testtray.Fringed(img, c.px) })
		if got := testtray.Concern(r, reading.ColoursChanged); (got.Kind != "") != c.doubted || !c.doubted && r.Verdict() != reading.VerdictGood {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}
