package leaves

import (
	"math"
	"testing"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
	"traygauge/vision/tray"
)

// What sRGB's yellow (CIELAB a* −21.55, b* 94.48, so C* 96.91 and h 102.85°), red (80.09, 67.20), green (−86.18, 83.18), blue (79.19, −107.86) and grey
// (0, 0) lie within limits, worked out by hand from these published values (from memory; testdata/refs/srgb_lab_d65.csv has them from the standard's
// formulas): the lesser of a*·sin h − b*·cos h and C* less the least chroma, over 10 and at most 2 either way.
func TestMarginOfKnownColours(t *testing.T) {
	red, yellow, green, blue, grey := raster.RGB{1, 0, 0}, raster.RGB{1, 1, 0}, raster.RGB{0, 1, 0}, raster.RGB{0, 0, 1}, raster.RGB{0.2, 0.2, 0.2}
	for _, c := range []struct {
		colour      string
		light       raster.RGB
		hue, chroma float64
		want        float64
	}{
		{"yellow below the hue", yellow, 105, 15, 0.364},    // −21.55 · 0.96593 + 94.48 · 0.25882 = 3.64
		{"yellow above the hue", yellow, 100, 15, -0.482},   // −21.55 · 0.98481 + 94.48 · 0.17365 = −4.82
		{"yellow above the chroma", yellow, 105, 95, 0.191}, // 96.91 − 95 is less than 3.64
		{"yellow below the chroma", yellow, 105, 100, -0.309},
		{"grey", grey, 105, 15, -1.5},
		{"grey with less chroma asked for", grey, 105, 8, -0.8},
		{"red, far within", red, 105, 15, 2},
		{"green, far beyond the hue", green, 105, 15, -2},
		{"blue, far beyond the hue", blue, 180, 15, -2}, // b* itself
		{"black", raster.RGB{}, 105, 15, -1.5},
		// X, Y, Z over white's are 0.004050, 0.004639, 0.000636 by the standard's matrix, below (6/29)³; so a* −2.29, b* 6.23, C* 6.64
		{"dim yellow, where the curve is straight", raster.RGB{0.005, 0.005, 0}, 105, 15, -0.836},
	} {
		in := coverage.Input{}.Sized(1, 1, 4)
		for i := range in.Light {
			in.Light[i] = c.light[i%3]
		}
		Options{ChlorosisHueDeg: c.hue, ChlorosisChroma: c.chroma}.margin().Fill(in, 0)
		if got := float64(in.Also[3]); !(math.Abs(got-c.want) <= 0.002) {
			t.Errorf("%s: %.3f, want %.3f", c.colour, got, c.want)
		}
	}
}

// Each prepared pixel's margin is value 2·(row % 2) + column % 2 of its square's four.
func TestMarginLiesWhereThePixelIs(t *testing.T) {
	s := evenScene(500, 400, leafPerMM)
	codes := [2][2][3]byte{{{0, 255, 255}, {0, 0, 255}}, {{0, 255, 0}, {128, 128, 128}}} // blue, green, red by row and column: yellow, red, green, grey
	want := [2][2]float64{{0.364, 2}, {-2, -1.5}}                                        // as in TestMarginOfKnownColours
	for i := range s.Photo.BGR {
		x, y := i/3%500, i/3/500
		s.Photo.BGR[i] = codes[y%2][x%2][i%3]
	}
	flat := tray.Layout{Rows: 1, Columns: 1, LengthMM: 100, WidthMM: 60, PitchMM: 40, FirstU: 50, FirstV: 30}
	slip := tray.Grid{U: 0.5 / leafPerMM, V: 0.5 / leafPerMM} // half a pixel, so that prepared pixels lie on the photo's
	c := &canopy{s: s, t: flat, o: Options{ChlorosisHueDeg: 105, ChlorosisChroma: 15}, sheet: newSheet(s, s.Plane, flat, slip)}
	strip := c.sheet.strips()[0]
	in := c.prepare(strip, coverage.Input{})
	seen := map[[2]int]bool{}
	for y := 200; y < 206; y++ {
		for x := 120; x < 126; x++ {
			u, v := c.sheet.uv(float64(strip.from+x)+0.5, float64(y)+0.5)
			q := s.Plane.ToPx(s.TrayPoint(slip.Place(flat, u, v)))
			px, py := int(math.Round(q.X)), int(math.Round(q.Y))
			got := float64(in.Also[besideLight*(y/2*in.W+x/2)+firstMargin+2*(y%2)+x%2])
			if want := want[py%2][px%2]; !(math.Abs(got-want) <= 0.002) {
				t.Errorf("prepared pixel %d, %d, the photo's %d, %d: %.3f, want %.3f", x, y, px, py, got, want)
			}
			seen[[2]int{px % 2, py % 2}] = true
		}
	}
	if len(seen) != 4 {
		t.Errorf("%d of the four colours were looked at", len(seen))
	}
}

// BenchmarkMargin prints what a prepared pixel's margin takes.
func BenchmarkMargin(b *testing.B) {
	in := coverage.Input{}.Sized(512, 2048, firstMargin+4)
	for i := range in.Light { // leaf and soil, some ten pixels wide, with grain
		root := 0.25 + 0.2*float32(math.Sin(float64(i)/60)) + float32(i*7919%1000)/1e4
		in.Light[i] = root * root
	}
	margin := Options{ChlorosisHueDeg: 105, ChlorosisChroma: 15}.margin()
	for b.Loop() {
		margin.Fill(in, firstMargin)
	}
	b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(b.N)/(4*512*2048), "ns/pixel")
}
