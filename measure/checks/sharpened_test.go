package checks_test

import (
	"image"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A mask of 1.2 times what a blur over σ px takes away puts 1.2·σ/√2π px of halo on each side of an edge: ∫ of 1.2·(1 − Φ(x/σ)) over x > 0. At 3.3 pixels per mm that is
// 0.14 mm for 1 px and less what the sensor's white cuts off, 0.43 mm for 3 px; 0.4 times over 1 px 0.05 mm. Smoothing alone makes no halo, and blur and noise no broad lines.
func TestAPhotoWhoseEdgesWereRedrawnIsDoubted(t *testing.T) {
	for _, c := range []struct {
		what    string
		face    card.Face
		change  func(image.Image) image.Image
		doubted bool
	}{
		{"nothing", card.Roots, func(i image.Image) image.Image { return i }, false},
		{"sharpened over 3 px", card.Roots, func(i image.Image) image.Image { return sharpened(i, 3, 1.2) }, true},
		{"sharpened a little over 1 px", card.Roots, func(i image.Image) image.Image { return sharpened(i, 1, 0.4) }, false},
		{"halved and enlarged with sharp edges", card.Roots, func(i image.Image) image.Image { return redrawn(i, 2) }, true},
		{"a little blurred", card.Roots, func(i image.Image) image.Image { return imaging.Blur(i, 0.4) }, false},
		{"leaves, sharpened over 3 px", card.Shoots, func(i image.Image) image.Image { return sharpened(i, 3, 0.6) }, false},
	} {
		s := testtray.Small(c.face)
		r := edited(t, s, 92, func(img *image.NRGBA) image.Image { return c.change(img) })
		if got := testtray.Concern(r, reading.ContrastChanged); (got.Kind != "") != c.doubted || !c.doubted && r.Verdict() == reading.VerdictRetake {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}

// sharpened adds a share of what a blur over sigma px takes away.
func sharpened(img image.Image, sigma, share float64) *image.NRGBA {
	return testtray.AwayFrom(img, imaging.Blur(img, sigma), share)
}

// redrawn makes a picture so many times smaller, enlarges it and sharpens it in rounds, each within what the pixels around hold: edges get steep without halos.
func redrawn(img image.Image, times int) image.Image {
	b := img.Bounds()
	out := imaging.Resize(imaging.Resize(img, b.Dx()/times, 0, imaging.Box), b.Dx(), b.Dy(), imaging.CatmullRom)
	for range 4 {
		sharp := sharpened(out, 0.5*float64(times), 0.6)
		was := imaging.Clone(out)
		for y := 1; y < b.Dy()-1; y++ {
			for x := 1; x < b.Dx()-1; x++ {
				for k := range 3 {
					least, most := uint8(255), uint8(0)
					for j := -1; j <= 1; j++ {
						for i := -1; i <= 1; i++ {
							v := was.Pix[(y+j)*was.Stride+4*(x+i)+k]
							least, most = min(least, v), max(most, v)
						}
					}
					at := y*was.Stride + 4*x + k
					out.Pix[at] = min(most, max(least, sharp.Pix[at]))
				}
			}
		}
	}
	return out
}
