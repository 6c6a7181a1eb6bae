package relief

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The flat card's white paper in the plug's plane is 1 under any lamp (the definition in package closeup).
func TestPaperIsOneUnderAnyLamp(t *testing.T) {
	d := dice{rand.New(rand.NewPCG(3, 4))}
	for range 50 {
		l := newLamp(d)
		light := l.matt(rgb{1, 1, 1}, slope{0, 0, 1}, 0.3, 1, 0)
		near(t, "paper's red", float64(light.r), 1, 1e-4)
		near(t, "paper's green", float64(light.g), 1, 1e-4)
		near(t, "paper's blue", float64(light.b), 1, 1e-4)
	}
}

// A wall 1 mm high under a lamp at 45° casts a shadow 1 mm wide, on the side away from the lamp.
func TestWallCastsAShadowAsLongAsTheLampIsLow(t *testing.T) {
	for _, toward := range [][2]float32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {0.6, 0.8}, {-0.8, 0.6}} {
		z := make([]float32, across*across)
		for i := range z {
			x, y := middle(i%across)-width/2, middle(i/across)-width/2
			if abs(dot(x, y, toward[0], toward[1])) < 0.3 {
				z[i] = 1
			}
		}
		h := march(z, across, toward[0]*math.Sqrt2/2, toward[1]*math.Sqrt2/2, step)
		shade := 0
		for k := -100; k <= 100; k++ { // across the wall, through the middle
			x, y := width/2+toward[0]*float32(k)*step, width/2+toward[1]*float32(k)*step
			i := int(y/step)*across + int(x/step)
			if z[i] == 0 && h[i] > 0 {
				shade++
			}
			if k > 10 && z[i] == 0 && h[i] > 0 {
				t.Errorf("toward %v: shadow on the lamp's side, %d samples from the middle", toward, k)
			}
		}
		near(t, "the shadow's width", float64(shade)*step, 1, 0.06)
	}
}
