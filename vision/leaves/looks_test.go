package leaves

import (
	"math"
	"testing"
)

// A network that is undecided leaves the answer to the pixel's own colour: on the limit half of the leaf is yellow, ten units of CIELAB within it nearly all, and
// ten beyond it nearly none.
func TestAPixelsOwnColourSettlesWhatTheNetworkLeavesOpen(t *testing.T) {
	square := make([]float32, mapSpread)
	for k := range 4 {
		square[mapLeaf+k] = 12 // surely leaf
	}
	c := &canopy{sheet: &sheet{w: 2, h: 2, leaf: make([]uint8, 4), yellow: make([]uint8, 4)}}
	s := c.shares(square, []float32{0, 1, -1, 0}, 0, 0)
	if math.Abs(s.leaf-4) > 0.01 || math.Abs(s.yellow-2) > 0.01 {
		t.Errorf("%.3f of 4 pixels are leaf, %.3f of them yellow, want 4 and 2", s.leaf, s.yellow)
	}
	for k, want := range []uint8{128, 255, 0, 128} {
		if got := c.sheet.yellow[k]; math.Abs(float64(got)-float64(want)) > 3 {
			t.Errorf("pixel %d is yellow by %d of 255, want about %d", k, got, want)
		}
	}
}
