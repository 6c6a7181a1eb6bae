package checks_test

import (
	"image"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/testphoto"
)

// A phone puts two pictures together, between which a hand nudged the tray but not the card. Roots are then in the photo twice, and cannot be used.
func TestATrayThatMovedBetweenTwoPicturesIsSeen(t *testing.T) {
	for _, c := range []struct {
		face    card.Face
		px      int
		verdict reading.Verdict
	}{
		{card.Roots, 0, reading.VerdictGood},
		{card.Roots, 5, reading.VerdictRetake},
		{card.Roots, 15, reading.VerdictRetake},
		{card.Shoots, 0, reading.VerdictGood},
		{card.Shoots, 8, reading.VerdictDoubt},
		{card.Shoots, 15, reading.VerdictDoubt},
	} {
		s := testtray.Small(c.face)
		r := edited(t, s, 92, func(img *image.NRGBA) image.Image {
			onTray := func(_, y int) bool { return y > img.Rect.Dy()*9/20 } // the card lies above
			return testphoto.Nudged(img, c.px, 0, onTray)
		})
		got := testtray.Concern(r, reading.Doubled)
		if got.Kind == "" {
			got = testtray.Concern(r, reading.VeilOverTray) // a net's threads are doubles of each other
		}
		if r.Verdict() != c.verdict || strings.Contains(got.Remedy, "HDR") != (c.px > 0) {
			t.Errorf("%v moved by %d pixels: %s %+v", c.face, c.px, r.Verdict(), r.Concerns)
		}
	}
}
