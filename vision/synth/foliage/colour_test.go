package foliage

import (
	"math"
	"testing"
)

// CIELAB values of sRGB's primaries and of grey under D65, as tables of sRGB colours give them (from memory), to 0.1.
func TestLabOfKnownColours(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rgb rgb
		lab lab
	}{
		{rgb{1, 0, 0}, lab{53.2, 80.1, 67.2}},
		{rgb{0, 1, 0}, lab{87.7, -86.2, 83.2}},
		{rgb{0, 0, 1}, lab{32.3, 79.2, -107.9}},
		{grey(0.2140), lab{53.4, 0, 0}},
	} {
		got := c.rgb.lab()
		if math.Abs(got.l-c.lab.l) > 0.1 || math.Abs(got.a-c.lab.a) > 0.1 || math.Abs(got.b-c.lab.b) > 0.1 {
			t.Errorf("%v is %.1f, want %v", c.rgb, got, c.lab)
		}
	}
}

func TestLabThereAndBack(t *testing.T) {
	t.Parallel()
	for _, c := range []lab{lch(40, 35, 125), lch(70, 55, 92), lch(15, 5, 60), lch(85, 12, 100)} {
		got := c.linear().lab()
		if math.Abs(got.l-c.l) > 0.01 || math.Abs(got.chroma()-c.chroma()) > 0.05 || math.Abs(got.hue()-c.hue()) > 0.05 {
			t.Errorf("%v comes back as %v", c, got)
		}
	}
}
