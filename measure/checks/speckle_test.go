package checks_test

import (
	"image"
	"math"
	"strings"
	"testing"

	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Dots of red that take a share m of its light up and down make red scatter by m/√2 of the grey's light, less what spots of three pixels level out of waves ten pixels long
// (sin(0.3π)/0.3π = 0.86 each way). The middle one of the three greys sends back about a third of paper's light: m of 0.2 makes 0.04, m of 0.05 a hundredth. Dots that take all colours up and
// down alike leave greys grey.
func TestSpecklesOfColourOnTheGreysAreDoubted(t *testing.T) {
	for _, c := range []struct {
		what     string
		by       float64
		channels []int
		doubted  bool
	}{
		{"a print's dots", 0.2, []int{0}, true},
		{"faint dots", 0.05, []int{0}, false},
		{"dots without colour", 0.2, []int{0, 1, 2}, false},
		{"nothing", 0, nil, false},
	} {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			s := testtray.Small(face)
			r := edited(t, s, 95, func(img *image.NRGBA) image.Image {
				for at := 0; at < len(img.Pix); at += 4 {
					x, y := at%img.Stride/4, at/img.Stride
					m := 1 + c.by*math.Cos(2*math.Pi*float64(x)/10)*math.Sqrt2*math.Cos(2*math.Pi*float64(y)/10)
					for _, k := range c.channels {
						light := raster.ToLinear(float64(img.Pix[at+k])/255) * m
						img.Pix[at+k] = uint8(255*raster.FromLinear(math.Min(1, light)) + 0.5)
					}
				}
				return img
			})
			got := false
			for _, concern := range r.Concerns {
				got = got || strings.Contains(concern.Words, "a print or a screen")
			}
			if got != c.doubted {
				t.Errorf("%s on the %v: %s %+v", c.what, face, r.Verdict(), r.Concerns)
			}
		}
	}
}
