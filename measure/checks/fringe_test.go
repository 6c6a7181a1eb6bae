package checks_test

import (
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
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
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		r := measure.One(asJPEG(t, testtray.Fringed(img, c.px), 92), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
		if got := testtray.Concern(r, reading.ColoursChanged); (got.Kind != "") != c.doubted || !c.doubted && r.Verdict() != reading.VerdictGood {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}
