package leaves

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/testphoto"
	"traygauge/vision/tray"
)

// evenScene is a photo of random codes, seen straight from above at pxMM pixels per mm, whose light is its linear code.
func evenScene(w, h int, pxMM float64) *scene.Scene {
	return scene.FromAbove(testphoto.Noise(w, h), card.Shoots, pxMM, raster.RGB{1, 1, 1})
}

// The tray laid flat reads the photo where the grid says, its border where the photo ends.
func TestSheetReadsThePhotoWhereTheTrayLies(t *testing.T) {
	s := evenScene(700, 500, 6)
	for i := range s.Photo.BGR { // a ramp to the right in red, downward in green
		x, y := i/3%700, i/3/700
		s.Photo.BGR[i] = []byte{0, byte(y / 2), byte(x / 3)}[i%3]
	}
	flat := tray.Layout{Rows: 1, Columns: 1, LengthMM: 100, WidthMM: 60, PitchMM: 40, FirstU: 50, FirstV: 30}
	f := newSheet(s, s.Plane, flat, tray.Grid{})
	for _, strip := range f.strips() {
		light := make([]float32, 3*f.h*strip.n())
		f.fillLight(s, strip, light)
		for _, at := range [][2]float64{{20, 10}, {50, 30}, {90, 55}} {
			x, y := int((at[0]+overhangMM)*leafPerMM), int((at[1]+overhangMM)*leafPerMM)
			if x < strip.from || x >= strip.to {
				continue
			}
			q := s.Plane.ToPx(s.TrayPoint(at[0], at[1]))
			k := 3 * (y*strip.n() + x - strip.from)
			if code := 255 * raster.FromLinear(float64(light[k])); math.Abs(code-q.X/3) > 1 {
				t.Errorf("at %v: red code %.1f, want %.1f", at, code, q.X/3)
			}
			if code := 255 * raster.FromLinear(float64(light[k+1])); math.Abs(code-q.Y/2) > 1 {
				t.Errorf("at %v: green code %.1f, want %.1f", at, code, q.Y/2)
			}
		}
	}
}

// Each column of the sheet counts in exactly one strip, and each strip sees beyond what counts in it.
func TestStripsCoverTheSheetOnce(t *testing.T) {
	for _, mm := range []float64{60, 120, 540, 1200} {
		s := evenScene(64, 64, 1)
		f := newSheet(s, s.Plane, tray.Layout{Rows: 1, Columns: 1, LengthMM: mm, WidthMM: 60, PitchMM: 40}, tray.Grid{})
		a, b := f.strips()[0], f.strips()[1]
		if a.own.from != 0 || a.own.to != b.own.from || b.own.to != f.w || a.n() != b.n() || a.n()%wholePx != 0 || b.to != f.w {
			t.Errorf("%g mm: %+v and %+v of %d", mm, a, b, f.w)
		}
		if a.to < min(f.w, a.own.to+marginPx) || b.from > max(0, b.own.from-marginPx) {
			t.Errorf("%g mm: %+v and %+v see too little", mm, a, b)
		}
	}
}
