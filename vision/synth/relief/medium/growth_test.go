package medium

import (
	"math"
	"testing"
)

// A fair share of the normal distribution lies beyond the limits: 1.1632, 0.6072 and -0.2964 are its 16, 30.1 and 60 % points, times
// the 1.17 that tint's sum spreads by (tables of the normal distribution).
func TestBellBeyond(t *testing.T) {
	for share, want := range map[float32]float64{0.16: 0.9945 * 1.17, 0.301: 0.5215 * 1.17, 0.6: -0.2533 * 1.17} {
		if got := bellBeyond(share); math.Abs(float64(got)-want) > 0.02 {
			t.Errorf("beyond %v lies the share %v, want beyond %v", got, share, want)
		}
	}
}
