package vision

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/coverage"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// plainScene is a photo of random codes, seen straight from above at pxMM pixels a mm, whose light is its linear code.
func plainScene(t *testing.T, w, h int, pxMM float64) *scene.Scene {
	t.Helper()
	p := &photo.Photo{Width: w, Height: h, BGR: make([]byte, 3*w*h)}
	r := rand.New(rand.NewPCG(3, 4))
	for i := range p.BGR {
		p.BGR[i] = byte(r.IntN(256))
	}
	return scene.FromAbove(p, card.Shoots, pxMM, raster.RGB{1, 1, 1})
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
		s := plainScene(t, 400, 400, pxMM)
		const side = 96
		p := prepareAt(s, s.Plane.ToMM(raster.Px{X: 199.5, Y: 199.5}), side, &scratch{})
		var got, want, n float64
		for k := range side * side / 4 {
			for c := range 4 { // red: its light is the square of what is kept, and 0.4 less
				v := float64(p.in.Channel(c)[k]) + 0.4
				got += v * v / (side * side)
			}
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

// The tray laid flat reads the photo where the grid says, its border where the photo ends.
func TestSheetReadsThePhotoWhereTheTrayLies(t *testing.T) {
	s := plainScene(t, 700, 500, 6)
	for i := range s.Photo.BGR { // a ramp to the right in red, downward in green
		x, y := i/3%700, i/3/700
		s.Photo.BGR[i] = []byte{0, byte(y / 2), byte(x / 3)}[i%3]
	}
	flat := tray.Layout{Rows: 1, Columns: 1, LengthMM: 100, WidthMM: 60, PitchMM: 40, FirstU: 50, FirstV: 30}
	f := newSheet(s, s.Plane, flat, tray.Grid{})
	for _, strip := range f.strips() {
		in := coverage.NewTensor(leafChannels, f.h/2, strip.n()/2)
		f.fillLight(s, strip, in)
		for _, at := range [][2]float64{{20, 10}, {50, 30}, {90, 55}} {
			x, y := int((at[0]+overhangMM)*leafPerMM), int((at[1]+overhangMM)*leafPerMM)
			if x < strip.from || x >= strip.to {
				continue
			}
			q := s.Plane.ToPx(s.TrayPoint(at[0], at[1]))
			k := y/2*in.W + (x-strip.from)/2
			red := float64(in.Channel(2*(y%2) + x%2)[k])
			if code := 255 * raster.FromLinear(raster.Sq(red+0.4)); math.Abs(code-q.X/3) > 1 {
				t.Errorf("at %v: red code %.1f, want %.1f", at, code, q.X/3)
			}
			green := float64(in.Channel(4 + 2*(y%2) + x%2)[k])
			if code := 255 * raster.FromLinear(raster.Sq(green+0.4)); math.Abs(code-q.Y/2) > 1 {
				t.Errorf("at %v: green code %.1f, want %.1f", at, code, q.Y/2)
			}
		}
	}
}

// Each column of the sheet counts in exactly one strip, and each strip sees beyond what counts in it.
func TestStripsCoverTheSheetOnce(t *testing.T) {
	for _, mm := range []float64{60, 120, 540, 1200} {
		s := plainScene(t, 64, 64, 1)
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
