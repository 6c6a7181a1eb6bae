package vision

import (
	"math"
	"testing"
)

// A bar under a Gaussian blur has the profile (erf((x + W/2)/√2σ) − erf((x − W/2)/√2σ))/2, whatever the direction it lies in, and
// is known by its width and its light: the one is to come out within an eighth, the other no further below.
func TestAcross(t *testing.T) {
	const blur = 0.8
	for _, width := range []float64{2.6, 3.3, 4.5, 6} {
		for _, deg := range []float64{0, 20, 45, 70} {
			m := drawnShares(80, 80, width, blur, straight(10, 12, 60, deg))
			r := newRaster(m.w, m.h)
			copy(r.v, m.a)
			for i := range r.v {
				r.v[i] *= 0.7
			}
			n, wide, mean := 0.0, 0.0, 0.0
			for _, at := range findCrests(r, fineSigma).list {
				if r.v[at.i] < 0.6 {
					continue
				}
				if p, ok := r.across(&at, blur); ok {
					n, wide, mean = n+1, wide+float64(p.widthPx), mean+float64(p.mean)
				}
			}
			r.Close()
			if n < 20 || math.Abs(wide/n/width-1) > 0.13 || mean/n/0.7 < 0.86 || mean/n/0.7 > 1.02 {
				t.Errorf("%g px wide at %g°: %g places tell a width of %.2f px and a mean of %.3f, drawn with 0.7", width, deg, n, wide/n, mean/n)
			}
		}
	}
}
