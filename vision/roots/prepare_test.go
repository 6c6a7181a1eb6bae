package roots

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/testphoto"
)

// plainScene is a photo of random codes, seen straight from above at pxMM pixels a mm, whose light is its linear code.
func plainScene(w, h int, pxMM float64) *scene.Scene {
	return scene.FromAbove(testphoto.Noise(w, h), card.Shoots, pxMM, raster.RGB{1, 1, 1})
}

// The boxes of a row of prepared pixels take each camera pixel between their ends once: shares times the boxes' width sum to 1 for it.
func TestBoxesTakeEachPixelOnce(t *testing.T) {
	for _, step := range []float64{0.7, 0.875, 1, 1.31, 2.6} {
		taken := map[int]float64{}
		perBox := map[int]float64{}
		for _, b := range boxesOf(3.3, step, 40) {
			taken[b.pixel] += float64(b.share) * step
			perBox[b.box] += float64(b.share)
		}
		for box, sum := range perBox {
			if math.Abs(sum-1) > 1e-5 {
				t.Errorf("step %g: box %d takes %g", step, box, sum)
			}
		}
		last := int(math.Floor(3.3 + 40*step))
		for pixel := 4; pixel < last; pixel++ {
			if math.Abs(taken[pixel]-1) > 1e-5 {
				t.Errorf("step %g: pixel %d is taken %g times", step, pixel, taken[pixel])
			}
		}
	}
}

// Preparing keeps the light: the mean over prepared pixels is that over the camera pixels that they cover, whatever the scale.
func TestPreparingKeepsTheLight(t *testing.T) {
	for _, pxMM := range []float64{3.1, 4.2, 6.3, 12.6} {
		s := plainScene(400, 400, pxMM)
		const side = 96
		p := prepareAt(s, s.Plane.ToMM(raster.Px{X: 199.5, Y: 199.5}), side, &seen{})
		var got, want, n float64
		for k := range side * side {
			got += float64(p.in.Light[3*k]) / (side * side)
		}
		for y := range 400 {
			for x := range 400 {
				over := func(at int, from, step float64) float64 {
					return math.Max(0, math.Min(float64(at+1), from+step*side)-math.Max(float64(at), from))
				}
				share := over(x, p.x0, p.stepX) * over(y, p.y0, p.stepY)
				want += share * float64(raster.LinearOf[s.Photo.BGR[s.Photo.At(x, y)+2]])
				n += share
			}
		}
		if pxMM < 9 && math.Abs(got/(want/n)-1) > 1e-4 {
			t.Errorf("%g px a mm: a mean light of %g became %g", pxMM, want/n, got)
		}
		if math.Abs(p.stepX-pxMM/preparedPerMM) > 1e-9 {
			t.Errorf("%g px a mm: %g pixels to a prepared one", pxMM, p.stepX)
		}
	}
}
