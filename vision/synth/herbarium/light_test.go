package herbarium

import (
	"math"
	"testing"

	"traygauge/vision/synth/closeup"
)

// Light on paper lying level is 1, by what closeup.RGB means; the lamp's part on a slope goes with the cosine of the angle to the
// lamp (Lambert 1760), where the lamp is small.
func TestLevelPaperGetsOne(t *testing.T) {
	for seed := range uint64(50) {
		l := lampOf(dice{seeded(seed)})
		if got := l.sun*l.direct(0, 0) + l.sky*l.around(0, 0); math.Abs(got-1) > 1e-9 {
			t.Errorf("seed %d: level paper gets %.4f", seed, got)
		}
	}
	l := lamp{toward: [3]float64{0.6, 0, 0.8}, flat: 0.8}
	if got := l.direct(-0.75, 0); math.Abs(got-1/0.8) > 1e-9 { // the slope -3/4 has the normal (0.6, 0, 0.8), which is the lamp's
		t.Errorf("a surface facing the lamp gets %.4f, want %.4f", got, 1/0.8)
	}
	if got := l.direct(1.4, 0); got != 0 { // the normal is (-1.4, 0, 1), and 0.8 - 1.4 · 0.6 is below 0
		t.Errorf("a surface facing away gets %.4f, want 0", got)
	}
}

// By CIE 15:2004, L* of 50 with no chroma is Y of ((50 + 16)/116)³ = 0.1842, and grey in sRGB has its Y in all three.
func TestColoursAreCIELABs(t *testing.T) {
	for k, v := range (lch{50, 0, 0}).light() {
		if math.Abs(float64(v)-0.1842) > 3e-4 {
			t.Errorf("grey of L* 50 has %.4f at %d, want 0.1842", v, k)
		}
	}
	for _, want := range []lch{{44, 38, 123}, {30, 20, 135}, {70, 55, 92}, {58, 24, 74}} {
		got := labOf(want.light())
		if math.Abs(got.l-want.l) > 0.1 || math.Abs(got.c-want.c) > 0.1 || math.Abs(got.h-want.h) > 0.2 {
			t.Errorf("%v comes back as %v", want, got)
		}
	}
}

// A level sheet of 10 × 10 mm, 5 mm up under a small lamp 45° to the left, darkens the ground 5 mm to its right and leaves what lies
// far off as bright as it was. It is 30 texels from (60, 60) on each side of its middle line.
func TestShadowFallsAwayFromTheLamp(t *testing.T) {
	l := lamp{toward: [3]float64{-math.Sqrt2 / 2, 0, math.Sqrt2 / 2}, sun: 0.8, sky: 0.2, soft: 0.02, flat: math.Sqrt2 / 2}
	c := newCanvas(200, 6, l)
	for i := range c.Light {
		c.top[i] = -1
		c.lit(i, &soil{own: closeup.RGB{0.5, 0.5, 0.5}, sun: 1, open: 1}, 0, 0)
	}
	c.mask.cut(200, ring{{60, 60}, {120, 60}, {120, 120}, {60, 120}})
	c.shade(level(5), [3]float32{})
	at := func(x, y int) float32 { return c.Light[y*200+x][1] }
	if at(130, 90) > 0.01 || at(145, 90) > 0.01 {
		t.Errorf("in the shadow the lamp's part is %.3f and %.3f, want 0", at(130, 90), at(145, 90))
	}
	if at(155, 90) < 0.39 || at(45, 90) < 0.39 || at(75, 90) < 0.39 {
		t.Errorf("beside the shadow the lamp's part is %.3f, %.3f and %.3f, want 0.4", at(155, 90), at(45, 90), at(75, 90))
	}
}
