package vision

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// A phone stores the sensor's rows and says how to turn them: areas do not depend on how it was held.
func TestOrientationInTheFileKeepsTheAreas(t *testing.T) {
	img, truth, err := synth.Draw(testphoto.FewPlants(card.Roots))
	if err != nil {
		t.Fatal(err)
	}
	var first float64
	for _, orientation := range []int{1, 3, 6, 8} {
		found, err := scene.FindCard(testphoto.Stored(t, img, truth, orientation), scene.CardOptions{})
		if err != nil {
			t.Fatalf("orientation %d: %v", orientation, err)
		}
		area := rootArea(t, found)
		if orientation == 1 {
			first = area
		}
		t.Logf("orientation %d: %.1f mm² of root", orientation, area)
		if math.Abs(area/first-1) > 0.015 { // a JPEG's own blocks lie elsewhere when turned, which moves the sum by a per cent
			t.Errorf("orientation %d: %.1f mm² of root, upright %.1f", orientation, area, first)
		}
	}
}

func rootArea(t *testing.T, s *scene.Scene) (sum float64) {
	t.Helper()
	plugs, _, err := Roots(s, tray50())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plugs {
		if !p.Empty {
			sum += p.RootMM2
		}
	}
	return sum
}
