package raster

import (
	"math"
	"testing"
)

// The 34 pairs of Sharma, Wu & Dalal (2005), published to four decimals. They try every special case; pair 10 lies on the hue's half turn,
// where a last digit decides, and its published value is the one to reach.
func TestColourDifferenceOfThePublishedPairs(t *testing.T) {
	rows := table(t, "ciede2000_pairs.csv")
	if len(rows) != 34 {
		t.Fatalf("%d pairs", len(rows))
	}
	worst := 0.0
	for _, r := range rows {
		a, b := Lab{r["L1"], r["a1"], r["b1"]}, Lab{r["L2"], r["a2"], r["b2"]}
		got, want := a.Difference(b), r["dE00_published_4dp"]
		if !(math.Abs(got-want) <= 0.00005001) {
			t.Errorf("pair %v: %.6f, published %.4f", r["pair"], got, want)
		}
		if back := b.Difference(a); !(math.Abs(back-want) <= 0.00005001) {
			t.Errorf("pair %v the other way round: %.6f, published %.4f", r["pair"], back, want)
		}
		worst = math.Max(worst, math.Abs(got-r["dE00_double"]))
	}
	t.Logf("worst difference from the values in double precision: %.2g", worst)
	if !(worst < 1e-9) {
		t.Errorf("off by %g from the values in double precision", worst)
	}
}

func TestColourDifferenceOfGreysIsTheirLightness(t *testing.T) {
	if d := (Lab{}).Difference(Lab{}); d != 0 {
		t.Errorf("black from black: %v", d)
	}
	// At a mean lightness of 50 S_L is 1, and the difference is that of L*.
	if d := (Lab{L: 49}).Difference(Lab{L: 51}); math.Abs(d-2) > 1e-12 {
		t.Errorf("greys 2 apart: %v", d)
	}
}
