package tray

import (
	"fmt"
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// withThing draws the small tray with a plant in every cell but C4, and a thing from (u0, v0) to (u1, v1) on it.
func withThing(t *testing.T, face card.Face, u0, v0, u1, v1 float64, colour [3]uint8) (*scene.Scene, Layout, Grid) {
	t.Helper()
	s := synth.Small(face)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range s.Tray.Cells() {
		if cell != "C4" {
			s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 12}
		}
	}
	s.Things = []synth.Thing{{Loop: []card.Pt{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}}, SRGB: colour}}
	p, _ := testphoto.Drawn(t, s, 1)
	found, err := scene.FindCard(p, scene.CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	d := synth.Tray12
	layout := Layout{Rows: d.Rows, Columns: d.Columns, LengthMM: d.LengthMM, WidthMM: d.WidthMM, PitchMM: d.PitchMM, FirstU: d.FirstU, FirstV: d.FirstV, PlugMM: d.PlugBottomMM}
	return found, layout, NewMap(found, layout).FitGrid()
}

var blackPlastic, nowhere = [3]uint8{32, 32, 33}, [4]float64{-60, 20, -50, 30}

// A band through the middle of a plug 34 mm across hides two arcs of its rim, each of 34·asin(w/34) mm under a band of width w: of 5.0 mm under 5, 17.2 under 16.5 and 26.7
// under 24. Parts of a rim are 4.45 mm long and count where all of them is hidden: one or two fewer are found than there is. All of 106.8 mm is hidden under 50 mm.
// Plastic is even but for the part that its edge runs along.
func TestHowMuchOfARimIsHidden(t *testing.T) {
	const part = math.Pi * 34 / rimParts
	for _, width := range []float64{5, 16.5, 24, 50} {
		s, layout, g := withThing(t, card.Roots, 0, 40-width/2, 70, 40+width/2, blackPlastic) // A1 alone: A2's rim begins at 78
		for k, rim := range RimsHidden(s, layout, g) {
			most := 34 * math.Asin(min(1, width/34))
			if width > 34 {
				most = math.Pi * 34
			}
			if least := most - 2*part; k == 0 && !(rim.Any <= most+0.01 && rim.Any >= least && rim.Even >= rim.Any-1.01*part) || k > 0 && rim.Any > 0 {
				t.Errorf("under %g mm: cell %d has %+v, of A1 %.1f mm are hidden", width, k, rim, most)
			}
		}
	}
}

// From above a band over the walls between A1, A2 and A3 hides as much of each as it is wide; strips are 5 mm wide from 15 mm on one side of the wall's middle to 15 mm on the
// other. A4's wall to A3 ends at 169 mm.
func TestHowMuchOfAWallIsHidden(t *testing.T) {
	none := &raster.Share{StepX: 1, StepY: 1}
	for _, c := range []struct{ width, hidden float64 }{{4, 0}, {12, 10}, {22, 20}, {40, 30}} {
		s, layout, g := withThing(t, card.Shoots, 30, 40-c.width/2, 160, 40+c.width/2, blackPlastic)
		for k, wall := range WallsHidden(s, layout, g, none) {
			want := 0.0
			if k < 3 {
				want = c.hidden
			}
			if math.Abs(wall.Any-want) > 0.01 || math.Abs(wall.Dark-want) > 0.01 {
				t.Errorf("under %g mm: cell %d has %+v, want %g mm", c.width, k, wall, want)
			}
		}
	}
}

// What light things hide is not dark. Leaf over a wall is no thing, however much of it there is, unless it is as even as plastic.
func TestLightThingsAndLeavesOverWalls(t *testing.T) {
	s, layout, g := withThing(t, card.Shoots, 30, 20, 160, 60, [3]uint8{225, 225, 220})
	none := &raster.Share{StepX: 1, StepY: 1}
	if wall := WallsHidden(s, layout, g, none)[1]; wall.Any == 0 || wall.Dark > 0 {
		t.Errorf("white paper: %+v", wall)
	}
	all := &raster.Share{StepX: float64(s.Photo.Width), StepY: float64(s.Photo.Height), W: 1, H: 1, A: []uint8{255}}
	for k, wall := range WallsHidden(s, layout, g, all) {
		if covered := k < 3; wall.Even > 0 != covered || wall.Dark > 0 {
			t.Errorf("green cloth that passes for leaf, cell %d: %+v", k, wall)
		}
	}
	s, layout, g = withThing(t, card.Shoots, nowhere[0], nowhere[1], nowhere[2], nowhere[3], blackPlastic)
	for _, leaf := range []*raster.Share{none, all} {
		if got := fmt.Sprint(WallsHidden(s, layout, g, leaf)); got != fmt.Sprint(make([]Hidden, 12)) {
			t.Errorf("nothing on the tray, leaf %v: %s", leaf == all, got)
		}
	}
}
