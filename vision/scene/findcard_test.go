package scene

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// Every way round and tilted up to 25°: card and tag are found, and the corners are where they were drawn.
func TestCardIsFoundHoweverTurnedAndTilted(t *testing.T) {
	worst := 0.0
	for i := range 12 {
		for j, tilt := range []float64{0, 15, 25} {
			face := card.Roots + card.Face((i+j)%2)
			s := synth.Defaults(face)
			s.Resize(1600, 1600)
			s.Number = 1 + 37*i%240
			s.Camera.HeightMM = 620
			s.Camera.RollDeg, s.Camera.TiltDeg, s.Camera.TiltTurn = float64(30*i), tilt, float64(50*i)
			p, truth := testphoto.Drawn(t, s, 1)
			found, err := FindCard(p, CardOptions{})
			if err != nil {
				t.Errorf("turned %d°, tilted %v°: %v", 30*i, tilt, err)
				continue
			}
			if found.Face != face || len(found.Tags) != 1 || found.Tags[0].Tray != s.Number {
				t.Errorf("turned %d°, tilted %v°: %v, tags %v; drawn were %v, tray %d", 30*i, tilt, found.Face, found.Tags, face, s.Number)
			}
			rms := cornersRMS(found, truth)
			worst = math.Max(worst, rms)
			if !(rms <= 0.15) {
				t.Errorf("turned %d°, tilted %v°: corners %.3f px rms off", 30*i, tilt, rms)
			}
			if !(math.Abs(found.Plane.TiltDeg-tilt) < 1) || !(math.Abs(found.Plane.HeightMM/truth.Camera.HeightMM-1) < 0.01) {
				t.Errorf("turned %d°: tilt %.2f°, height %.1f mm; drawn %v°, %.1f mm", 30*i, found.Plane.TiltDeg, found.Plane.HeightMM, tilt, truth.Camera.HeightMM)
			}
		}
	}
	t.Logf("worst corners: %.3f px rms", worst)
}

// A phone stores the sensor's rows and says how to turn them: corners do not depend on how it was held.
func TestOrientationInTheFileChangesNothing(t *testing.T) {
	s := testphoto.FewPlants(card.Roots)
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, orientation := range []int{1, 3, 6, 8} {
		found, err := FindCard(testphoto.Stored(t, img, truth, orientation), CardOptions{})
		if err != nil {
			t.Fatalf("orientation %d: %v", orientation, err)
		}
		if rms := cornersRMS(found, truth); !(rms <= 0.15) {
			t.Errorf("orientation %d: corners %.3f px rms off", orientation, rms)
		}
	}
}

// cornersRMS is the root mean square distance of the found marker corners from the drawn ones, in px.
func cornersRMS(s *Scene, truth synth.Truth) float64 {
	sum := 0.0
	for i := range 4 {
		for k := range 4 {
			sum += raster.Sq(s.Corners[i][k].X-truth.Markers[i][k][0]) + raster.Sq(s.Corners[i][k].Y-truth.Markers[i][k][1])
		}
	}
	return math.Sqrt(sum / 16)
}
