package num

import (
	"math"
	"testing"
)

// CIELAB values of sRGB's primaries and of grey under D65, as tables of sRGB colours give them (from memory), to 0.1.
func TestLabOfKnownColours(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rgb RGB
		lab Lab
	}{
		{RGB{1, 0, 0}, Lab{53.2, 80.1, 67.2}},
		{RGB{0, 1, 0}, Lab{87.7, -86.2, 83.2}},
		{RGB{0, 0, 1}, Lab{32.3, 79.2, -107.9}},
		{Grey(0.2140), Lab{53.4, 0, 0}},
	} {
		got := c.rgb.Lab()
		if math.Abs(got.L-c.lab.L) > 0.1 || math.Abs(got.A-c.lab.A) > 0.1 || math.Abs(got.B-c.lab.B) > 0.1 {
			t.Errorf("%v is %.1f, want %v", c.rgb, got, c.lab)
		}
	}
}

func TestLabThereAndBack(t *testing.T) {
	t.Parallel()
	for _, c := range []Lab{Lch(40, 35, 125), Lch(70, 55, 92), Lch(15, 5, 60), Lch(85, 12, 100)} {
		got := c.Linear().Lab()
		if math.Abs(got.L-c.L) > 0.01 || math.Abs(got.Chroma()-c.Chroma()) > 0.05 || math.Abs(got.Hue()-c.Hue()) > 0.05 {
			t.Errorf("%v comes back as %v", c, got)
		}
	}
}
