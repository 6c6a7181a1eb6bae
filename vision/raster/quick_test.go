package raster

import (
	"math"
	"testing"
)

// The table of known colours is that of TestLabOfKnownColours: values by the standard's formulas, which are published to two digits for the primaries (red:
// a* 80.09, b* 67.20).
func TestQuickABOfKnownColours(t *testing.T) {
	for _, r := range table(t, "srgb_lab_d65.csv") {
		a, b := AB(LinearOf[int(r["R"])], LinearOf[int(r["G"])], LinearOf[int(r["B"])])
		if !(math.Abs(float64(a)-r["a"]) <= 0.02 && math.Abs(float64(b)-r["b"]) <= 0.02) {
			t.Errorf("%v %v %v: a* %.3f and b* %.3f, want %.3f and %.3f", r["R"], r["G"], r["B"], a, b, r["a"], r["b"])
		}
	}
}

// chordsWithin is how near chords are to the curve: twice h²/8 · |f″| at (6/29)³, where the cube root bends most; f″ = −2/9 t^(−5/3), h = 1/2048.
const chordsWithin = 3.6e-5

// Greys from black to what is lighter than any light that is measured have X, Y and Z over white's equal to their light.
func TestChordsKeepToTheCurve(t *testing.T) {
	worst := 0.0
	for light := 0.0; light < 2.26; light += 1e-5 {
		want := 841.0/108*light + 4.0/29 // CIE 15:2004, 8.2.1.1
		if light > 216.0/24389 {
			want = math.Cbrt(light)
		}
		worst = math.Max(worst, math.Abs(float64(chordAt(float32(light*chordsPerOne)))-want))
	}
	if !(worst < chordsWithin) {
		t.Errorf("off by %.2g", worst)
	}
	t.Logf("worst difference from the cube root: %.2g", worst)
}

// What is no light harms nobody: no panic, and no number comes of no number.
func TestQuickABOfNoLight(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	if a, b := AB(nan, 0.5, 0.5); a == a || b == b {
		t.Errorf("a* %g, b* %g of no number", a, b)
	}
	AB(inf, inf, inf)
	AB(-1, -1, -1)
}
