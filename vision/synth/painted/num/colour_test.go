package num

import (
	"math"
	"testing"
)

// CIELAB of the sRGB primaries, D65 (B. Lindbloom's conversion formulas with these constants): pure green has C* 119.78 and
// h 136.02°, pure red 104.55 and 40.00°.
func TestChromaHue(t *testing.T) {
	c, h := ChromaHue(RGB{0, 1, 0})
	near(t, "C* of green", c, 119.78, 0.02)
	near(t, "h of green", h, 136.02, 0.02)
	c, h = ChromaHue(RGB{1, 0, 0})
	near(t, "C* of red", c, 104.55, 0.02)
	near(t, "h of red", h, 40.00, 0.02)
	c, h = ChromaHue(FromLCh(55, 40, 120))
	near(t, "C* there and back", c, 40, 0.01)
	near(t, "h there and back", h, 120, 0.01)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
