package lighting

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// The flat card's white paper in the plug's plane is 1 under any lamp (the definition in package closeup).
func TestPaperIsOneUnderAnyLamp(t *testing.T) {
	d := num.Dice{Rand: rand.New(rand.NewPCG(3, 4))}
	for range 50 {
		l := NewLamp(d)
		light := l.Matt(num.RGB{R: 1, G: 1, B: 1}, Slope{0, 0, 1}, 0.3, 1, 0)
		want(t, "paper's red", float64(light.R), 1, 1e-4)
		want(t, "paper's green", float64(light.G), 1, 1e-4)
		want(t, "paper's blue", float64(light.B), 1, 1e-4)
	}
}

// A wall 1 mm high under a lamp at 45° casts a shadow 1 mm wide, on the side away from the lamp.
func TestWallCastsAShadowAsLongAsTheLampIsLow(t *testing.T) {
	for _, toward := range [][2]float32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {0.6, 0.8}, {-0.8, 0.6}} {
		z := make([]float32, solids.Across*solids.Across)
		for i := range z {
			x, y := solids.Middle(i%solids.Across)-solids.Width/2, solids.Middle(i/solids.Across)-solids.Width/2
			if num.Abs(num.Dot(x, y, toward[0], toward[1])) < 0.3 {
				z[i] = 1
			}
		}
		h := march(z, solids.Across, toward[0]*math.Sqrt2/2, toward[1]*math.Sqrt2/2, solids.Step)
		shade := 0
		for k := -100; k <= 100; k++ { // across the wall, through the middle
			x, y := solids.Width/2+toward[0]*float32(k)*solids.Step, solids.Width/2+toward[1]*float32(k)*solids.Step
			i := int(y/solids.Step)*solids.Across + int(x/solids.Step)
			if z[i] == 0 && h[i] > 0 {
				shade++
			}
			if k > 10 && z[i] == 0 && h[i] > 0 {
				t.Errorf("toward %v: shadow on the lamp's side, %d samples from the middle", toward, k)
			}
		}
		want(t, "the shadow's width", float64(shade)*solids.Step, 1, 0.06)
	}
}

// want fails unless got is the expected value within a share of it.
func want(t *testing.T, what string, got, expected, share float64) {
	t.Helper()
	if math.Abs(got-expected) > share*expected {
		t.Errorf("%s is %.4f, want %.4f within %.1f %%", what, got, expected, 100*share)
	}
}
