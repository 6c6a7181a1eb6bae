package canvas

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/num"
)

// Light on paper lying level is 1, by what closeup.RGB means; the lamp's part on a slope goes with the cosine of the angle to the
// lamp (Lambert 1760), where the lamp is small.
func TestLevelPaperGetsOne(t *testing.T) {
	for seed := range uint64(50) {
		l := LampOf(num.Dice{Rand: rand.New(rand.NewPCG(seed, 0x6c656166))})
		if got := l.Sun*l.Direct(0, 0) + l.Sky*l.Around(0, 0); math.Abs(got-1) > 1e-9 {
			t.Errorf("seed %d: level paper gets %.4f", seed, got)
		}
	}
	l := Lamp{toward: [3]float64{0.6, 0, 0.8}, flat: 0.8}
	if got := l.Direct(-0.75, 0); math.Abs(got-1/0.8) > 1e-9 { // the slope -3/4 has the normal (0.6, 0, 0.8), which is the lamp's
		t.Errorf("a surface facing the lamp gets %.4f, want %.4f", got, 1/0.8)
	}
	if got := l.Direct(1.4, 0); got != 0 { // the normal is (-1.4, 0, 1), and 0.8 - 1.4 · 0.6 is below 0
		t.Errorf("a surface facing away gets %.4f, want 0", got)
	}
}

// A level sheet of 10 × 10 mm, 5 mm up under a small lamp 45° to the left, darkens the ground 5 mm to its right and leaves what lies
// far off as bright as it was. It is 30 texels from (60, 60) on each side of its middle line.
func TestShadowFallsAwayFromTheLamp(t *testing.T) {
	l := Lamp{toward: [3]float64{-math.Sqrt2 / 2, 0, math.Sqrt2 / 2}, Sun: 0.8, Sky: 0.2, Soft: 0.02, flat: math.Sqrt2 / 2}
	c := NewCanvas(200, 6, l)
	for i := range c.Light {
		c.Top[i] = -1
		c.Light[i] = closeup.RGB{0.4, 0.4, 0.4} // the lamp's part on a level place that sends back half
	}
	c.Mask.cut(200, num.Ring{{X: 60, Y: 60}, {X: 120, Y: 60}, {X: 120, Y: 120}, {X: 60, Y: 120}})
	c.Shade(Level(5), [3]float32{})
	at := func(x, y int) float32 { return c.Light[y*200+x][1] }
	if at(130, 90) > 0.01 || at(145, 90) > 0.01 {
		t.Errorf("in the shadow the lamp's part is %.3f and %.3f, want 0", at(130, 90), at(145, 90))
	}
	if at(155, 90) < 0.39 || at(45, 90) < 0.39 || at(75, 90) < 0.39 {
		t.Errorf("beside the shadow the lamp's part is %.3f, %.3f and %.3f, want 0.4", at(155, 90), at(45, 90), at(75, 90))
	}
}
