package leaves

import (
	"image"
	"math"
	"testing"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
)

// beds is h × w squares of ground of which every fourth row of pixels is leaf.
func beds(h, w int, ground, leaf, lamp raster.RGB) coverage.Input {
	in := coverage.Input{}.Sized(h, w, besideLight)
	for i := range in.Light {
		colour := ground
		if i/(6*w)%4 == 1 {
			colour = leaf
		}
		in.Light[i] = colour[i%3] * lamp[i%3]
	}
	return in
}

// greenOf returns the greenness of a pixel of the first column.
func greenOf(in coverage.Input, y int) float64 {
	return float64(in.Also[y/2*in.W*besideLight+firstGreen+2*(y%2)])
}

// Worked out by hand: with 0.02 added, ground's green is 2·ln 0.17 − ln 0.22 − ln 0.12 = 0.090, leaf's 2·ln 0.16 − ln 0.08 − ln 0.06 = 1.674.
func TestLeafIsGreenerThanGroundByOneUnit(t *testing.T) {
	soil, leaf := raster.RGB{0.20, 0.15, 0.10}, raster.RGB{0.06, 0.14, 0.04}
	for _, lamp := range []raster.RGB{{1, 1, 1}, {1.25, 1, 0.8}, {0.8, 1, 1.2}} {
		in := beds(8, 6, soil, leaf, lamp)
		fillGreen(in, firstGreen, image.Rect(0, 0, 2*in.W, 2*in.H))
		ground, green := greenOf(in, 0), greenOf(in, 1)
		if !(math.Abs(green-ground-1) < 0.03) || ground > 0.03 || green < 0.9 {
			t.Errorf("by a lamp of %v, ground is %.3f green and leaf %.3f: not a unit apart, on either side of 0", lamp, ground, green)
		}
	}
}

// Ground that differs by a tenth of a colour has no green in it: its grain must not be stretched until it looks like leaf.
func TestGrainIsNotGreen(t *testing.T) {
	in := beds(8, 6, raster.RGB{0.20, 0.15, 0.10}, raster.RGB{0.20, 0.157, 0.10}, raster.RGB{1, 1, 1})
	fillGreen(in, firstGreen, image.Rect(0, 0, 2*in.W, 2*in.H))
	for y := range 16 {
		if got := greenOf(in, y); math.Abs(got) > 0.5 {
			t.Errorf("row %d is %.2f green", y, got)
		}
	}
}

// A green bench beside the tray must not change what is green on it.
func TestGreenBesideTheTrayDoesNotCount(t *testing.T) {
	soil, leaf := raster.RGB{0.20, 0.15, 0.10}, raster.RGB{0.06, 0.14, 0.04}
	in := beds(8, 6, soil, leaf, raster.RGB{1, 1, 1})
	for y := range 16 {
		for x := range 6 {
			copy(in.Light[3*(12*y+6+x):], []float32{0.02, 0.5, 0.02})
		}
	}
	fillGreen(in, firstGreen, image.Rect(0, 0, 6, 16))
	if ground, green := greenOf(in, 0), greenOf(in, 1); !(math.Abs(green-ground-1) < 0.03) || ground > 0.03 || green < 0.9 {
		t.Errorf("beside a green bench, ground is %.3f green and leaf %.3f: not a unit apart, on either side of 0", ground, green)
	}
}

// Each prepared pixel's greenness is value 2·(row % 2) + column % 2 of its square's four, and values beside it are left alone.
func TestGreennessLiesWhereThePixelIs(t *testing.T) {
	in := coverage.Input{}.Sized(2, 2, besideLight)
	for i := range in.Also {
		in.Also[i] = 7
	}
	for i := range in.Light {
		in.Light[i] = 0.1
	}
	in.Light[3*(3*4+2)+1] = 0.5 // row 3, column 2: square 3, its third pixel
	fillGreen(in, firstGreen, image.Rect(0, 0, 2*in.W, 2*in.H))
	for i, v := range in.Also {
		switch square, k := i/besideLight, i%besideLight; {
		case k < firstGreen:
			if v != 7 {
				t.Errorf("value %d of square %d is %g now", k, square, v)
			}
		case (square == 3 && k == firstGreen+2) != (v > 0.5):
			t.Errorf("pixel %d of square %d is %g green", k-firstGreen, square, v)
		}
	}
}

func TestLogarithm(t *testing.T) {
	for v := 1e-4; v < 1e4; v *= 1.0137 {
		if got := float64(logarithm(float32(v))); !(math.Abs(got-math.Log(v)) < 0.0002) {
			t.Errorf("the logarithm of %g: %g, want %g", v, got, math.Log(v))
		}
	}
}

// BenchmarkGreen prints what a prepared pixel's greenness takes.
func BenchmarkGreen(b *testing.B) {
	in := beds(512, 2048, raster.RGB{0.20, 0.15, 0.10}, raster.RGB{0.06, 0.14, 0.04}, raster.RGB{1, 1, 1})
	for b.Loop() {
		fillGreen(in, firstGreen, image.Rect(0, 0, 2*in.W, 2*in.H))
	}
	b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(b.N)/(4*512*2048), "ns/pixel")
}

// Black and light beyond any paper are taken as they come.
func TestGreennessOfExtremes(t *testing.T) {
	in := beds(2, 2, raster.RGB{}, raster.RGB{0, 9, 0}, raster.RGB{1, 1, 1})
	in.Light[0] = -1
	fillGreen(in, firstGreen, image.Rect(0, 0, 2*in.W, 2*in.H))
	for y := range 4 {
		if got := greenOf(in, y); math.IsNaN(got) || math.Abs(got) > mostGreen {
			t.Errorf("row %d is %g green", y, got)
		}
	}
}
