package vision

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
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
			p, truth := drawn(t, s, 1)
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

// A phone stores the sensor's rows and says how to turn them: corners and areas do not depend on how it was held.
func TestOrientationInTheFileChangesNothing(t *testing.T) {
	s := fewPlants(card.Roots)
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	var first float64
	for _, orientation := range []int{1, 3, 6, 8} {
		found, err := FindCard(stored(t, img, truth, orientation), CardOptions{})
		if err != nil {
			t.Fatalf("orientation %d: %v", orientation, err)
		}
		if rms := cornersRMS(found, truth); !(rms <= 0.15) {
			t.Errorf("orientation %d: corners %.3f px rms off", orientation, rms)
		}
		area := rootArea(t, found)
		if orientation == 1 {
			first = area
		}
		t.Logf("orientation %d: %.1f mm² of root", orientation, area)
		relative(t, "root area", area, first, 0.01) // a JPEG's own blocks lie elsewhere when turned
	}
}

func rootArea(t *testing.T, s *Scene) (sum float64) {
	t.Helper()
	plugs, _, err := s.Roots(tray50())
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

// The card lies 3 mm and 1° off the dock; the grid that is fitted to the tray takes that out again.
func TestGridFollowsTheTrayWhereTheCardLiesAskew(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, off := range [][3]float64{{3, 3, 1}, {-3, 2, -1}, {0, 0, 0}} {
			s := fewPlants(face)
			for _, cell := range s.Tray.Cells() {
				s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 20}
			}
			s.CardX, s.CardY, s.CardTurn = off[0], off[1], off[2]
			s.Camera.HeightMM = 520
			p, truth := drawn(t, s, 1)
			found, err := FindCard(p, CardOptions{})
			if err != nil {
				t.Errorf("%v, %v: %v", face, off, err)
				continue
			}
			o := found.overview(tray50())
			g := found.fitGrid(o, tray50())
			before, worst := worstCell(t, found, truth, Grid{}), worstCell(t, found, truth, g)
			t.Logf("%v, card off by %v: cells %.1f mm off the dock, %.2f mm after fitting", face, off, before, worst)
			if !g.Fitted || !(worst <= 1.5) {
				t.Errorf("%v, %v: fitted %v, worst cell %.2f mm off", face, off, g.Fitted, worst)
			}
		}
	}
}

// worstCell is how far the worst cell's centre lies from the drawn one, in mm; the drawn ones follow from the tray's four
// drawn corners.
func worstCell(t *testing.T, s *Scene, truth synth.Truth, g Grid) (worst float64) {
	t.Helper()
	tray := tray50()
	var corners []card.Pt
	var seen []raster.Px
	for name, at := range map[string]card.Pt{
		"A1": {}, "A10": {X: tray.LengthMM}, "E10": {X: tray.LengthMM, Y: tray.WidthMM}, "E1": {Y: tray.WidthMM},
	} {
		corners = append(corners, at)
		seen = append(seen, raster.Px{X: truth.Corners[name][0], Y: truth.Corners[name][1]})
	}
	h, _, _, err := fitHomography(corners, seen)
	if err != nil {
		t.Fatal(err)
	}
	for r := range tray.Rows {
		for c := range tray.Columns {
			u, v := tray.centre(r, c)
			x, y := h.Apply(u, v)
			drawn := s.Plane.ToMM(raster.Px{X: x, Y: y})
			at := s.TrayPoint(g.place(tray, u, v))
			worst = math.Max(worst, math.Hypot(at.X-drawn.X, at.Y-drawn.Y))
		}
	}
	return worst
}
