package num

import (
	"math"
	"testing"

	"traygauge/vision/synth/closeup"
)

// By CIE 15:2004, L* of 50 with no chroma is Y of ((50 + 16)/116)³ = 0.1842, and grey in sRGB has its Y in all three.
func TestColoursAreCIELABs(t *testing.T) {
	for k, v := range (LCH{50, 0, 0}).Light() {
		if math.Abs(float64(v)-0.1842) > 3e-4 {
			t.Errorf("grey of L* 50 has %.4f at %d, want 0.1842", v, k)
		}
	}
	for _, want := range []LCH{{44, 38, 123}, {30, 20, 135}, {70, 55, 92}, {58, 24, 74}} {
		got := labOf(want.Light())
		if math.Abs(got.L-want.L) > 0.1 || math.Abs(got.C-want.C) > 0.1 || math.Abs(got.H-want.H) > 0.2 {
			t.Errorf("%v comes back as %v", want, got)
		}
	}
}

// labOf is CIELAB of linear sRGB by CIE 15:2004, 8.2.1, hue from 0 to 360.
func labOf(c closeup.RGB) LCH {
	r, g, b := float64(c[0]), float64(c[1]), float64(c[2])
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f((0.4124*r+0.3576*g+0.1805*b)/0.95047), f(0.2126*r+0.7152*g+0.0722*b), f((0.0193*r+0.1192*g+0.9505*b)/1.08883)
	a, bb := 500*(x-y), 200*(y-z)
	h := math.Atan2(bb, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return LCH{116*y - 16, math.Hypot(a, bb), h}
}
