package checks_test

import (
	"image"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A fingerprint on the lens spreads a share of the light over 6 mm on the last row of the tray: what is left of fine contrast is the rest, so that the other
// rows are 1/0.3 = 3.3 times as clear at a share of 0.7, and 10 times at 0.9.
func TestASmearOverOnePartOfThePhotoIsSeen(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for share, verdict := range map[float64]reading.Verdict{0: reading.VerdictGood, 0.7: reading.VerdictDoubt, 0.9: reading.VerdictRetake} {
			s := testtray.Small(face)
			s.Camera.TiltDeg, s.Camera.RollDeg = 0, 0
			r := edited(t, s, 92, func(img *image.NRGBA) image.Image {
				b := img.Bounds()
				pxPerMM := float64(s.Camera.Width) * s.Camera.Focal35 / 36 / s.Camera.HeightMM
				spread := imaging.Resize(imaging.Blur(imaging.Resize(img, b.Dx()/4, 0, imaging.Box), 6*pxPerMM/4), b.Dx(), b.Dy(), imaging.Linear)
				from := b.Dy()/2 + int(pxPerMM*(0.62*s.Tray.WidthMM+card.Height-(card.Height+s.Tray.WidthMM)/2))
				for i := range img.Pix {
					if i/4/b.Dx() > from {
						img.Pix[i] = uint8((1-share)*float64(img.Pix[i]) + share*float64(spread.Pix[i]) + 0.5)
					}
				}
				return img
			})
			if got := testtray.Concern(r, reading.VeilOverTray); r.Verdict() != verdict || (got.Kind != "") != (share > 0) {
				t.Errorf("%v, a share of %g: %s %+v", face, share, r.Verdict(), r.Concerns)
			}
		}
	}
}
