package tray

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// The card lies 3 mm and 1° off the dock; the grid that is fitted to the tray takes that out again.
func TestGridFollowsTheTrayWhereTheCardLiesAskew(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, off := range [][3]float64{{3, 3, 1}, {-3, 2, -1}, {0, 0, 0}} {
			s := testphoto.FewPlants(face)
			for _, cell := range s.Tray.Cells() {
				s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 20}
			}
			s.CardX, s.CardY, s.CardTurn = off[0], off[1], off[2]
			s.Camera.HeightMM = 520
			p, truth := testphoto.Drawn(t, s, 1)
			found, err := scene.FindCard(p, scene.CardOptions{})
			if err != nil {
				t.Errorf("%v, %v: %v", face, off, err)
				continue
			}
			g := NewMap(found, layout50()).FitGrid()
			before, worst := worstCell(t, found, truth, Grid{}), worstCell(t, found, truth, g)
			t.Logf("%v, card off by %v: cells %.1f mm off the dock, %.2f mm after fitting", face, off, before, worst)
			if !g.Fitted || !(worst <= 1.5) {
				t.Errorf("%v, %v: fitted %v, worst cell %.2f mm off", face, off, g.Fitted, worst)
			}
		}
	}
}

// worstCell is how far the worst cell's centre lies from the drawn one, in mm; the drawn ones follow from three of the
// tray's drawn corners.
func worstCell(t *testing.T, s *scene.Scene, truth synth.Truth, g Grid) (worst float64) {
	t.Helper()
	tray := layout50()
	at := func(name string) card.Pt {
		return s.Plane.ToMM(raster.Px{X: truth.Corners[name][0], Y: truth.Corners[name][1]})
	}
	origin, long, short := at("A1"), at("A10"), at("E1")
	for r := range tray.Rows {
		for c := range tray.Columns {
			u, v := tray.Centre(r, c)
			along, across := u/tray.LengthMM, v/tray.WidthMM
			x := origin.X + along*(long.X-origin.X) + across*(short.X-origin.X)
			y := origin.Y + along*(long.Y-origin.Y) + across*(short.Y-origin.Y)
			placed := s.TrayPoint(g.Place(tray, u, v))
			worst = math.Max(worst, math.Hypot(placed.X-x, placed.Y-y))
		}
	}
	return worst
}

// layout50 is the tray that scenes show, as the finder takes it.
func layout50() Layout {
	s := synth.Tray50
	return Layout{Rows: s.Rows, Columns: s.Columns, LengthMM: s.LengthMM, WidthMM: s.WidthMM, PitchMM: s.PitchMM,
		FirstU: s.FirstU, FirstV: s.FirstV, PlugMM: s.PlugBottomMM}
}
