package exposure

import (
	"math"
	"testing"

	"traygauge/vision/synth/painted/num"
)

func TestBlurKeepsTheLight(t *testing.T) {
	p := NewPicture(40, 30)
	p.Blend(20, 15, num.RGB{1, 0.5, 0.25}, 1)
	var sum, square float64
	p.blurred(gaussian(1.5), func(y int, row []float32) {
		for x := range 40 {
			v := float64(row[3*x])
			sum += v
			square += v * float64((x-20)*(x-20))
		}
	})
	near(t, "light", sum, 1, 1e-5)
	// A normal kernel cut at 2.8 sigma and widened by a pixel's own 1/12.
	near(t, "variance", square/sum, 1.5*1.5+1.0/12, 0.2)
}

// An even disc of radius r has the variance r²/4 along each axis.
func TestDefocusIsADisc(t *testing.T) {
	p := NewPicture(40, 30)
	p.Blend(20, 15, num.RGB{1, 1, 1}, 1)
	p.Blend(39, 0, num.RGB{0, 0, 0}, 1)
	p.defocus(3)
	var sum, square float64
	for i := 0; i < len(p.P); i += 3 {
		v := float64(p.P[i])
		sum += v
		square += v * float64((i/3%40-20)*(i/3%40-20))
	}
	near(t, "light", sum, 1, 1e-5)
	near(t, "variance", square/sum, 9.0/4+1.0/12, 0.1)
}

func TestShadowAndVignette(t *testing.T) {
	l := Light{Shadow: 0.4, ShadowTurn: 90, Vignette: 0.2}
	near(t, "middle", l.falloff(0, 0)[1], 1, 1e-12)
	near(t, "in the shadow", l.falloff(0, 0.6)[1], 0.6*(1-0.2*0.36), 1e-12)
	near(t, "in the corner away from it", l.falloff(-0.8, -0.6)[1], 0.8, 1e-12)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
