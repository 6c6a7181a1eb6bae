package shape

import (
	"math"
	"testing"

	"traygauge/vision/synth/herbarium/num"
)

// Where a bent, folded sheet's spot is drawn, that spot is found again.
func TestFindIsTheConverseOfPlace(t *testing.T) {
	k := Course{From: num.At(200, 150), Long: 50, Way: 0.7, Turn: 0.6, Rise: 0.8, Droop: 1.2, Late: 2, Fold: 0.3, Roll: 0.2}
	sp := k.Spine(12, 6)
	for s := -4.0; s < 56; s += 3.3 {
		for y := -9.0; y <= 9; y += 2.2 {
			got := sp.Find(sp.Place(num.At(s, y)), 0)
			if math.Abs(got.S-s) > 0.3 || math.Abs(got.Y-y) > 0.1 {
				t.Errorf("(%.1f, %.1f) is found at (%.2f, %.2f)", s, y, got.S, got.Y)
			}
		}
	}
}
