package vision

import (
	"math"
	"testing"
)

// A bar of width W under a Gaussian blur of sigma 1 has the profile ½(erf((x+W/2)/√2) − erf((x−W/2)/√2)); its width at half
// its crest is found here by bisection, independent of barWidth.
func TestBarWidth(t *testing.T) {
	for _, want := range []float64{1.8, 2.4, 3, 3.5, 4.5, 6} {
		profile := func(x float64) float64 {
			return (math.Erf((x+want/2)/math.Sqrt2) - math.Erf((x-want/2)/math.Sqrt2)) / 2
		}
		lo, hi := 0.0, 10.0
		for range 60 {
			if mid := (lo + hi) / 2; profile(mid) > profile(0)/2 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if got := barWidth(2*lo, 1); math.Abs(got/want-1) > 0.001 {
			t.Errorf("a bar %g wide, seen %.3f wide, was taken for %.3f", want, 2*lo, got)
		}
	}
}
