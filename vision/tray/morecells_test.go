package tray

import (
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// Of three rows of four cells on each board, a drawing with two rows leaves one beyond its last, one without the first row leaves one before its first, and the tray's own
// leaves none, whatever the board looks like.
func TestRowsThatTheDrawingLeftOut(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, board := range []synth.Board{synth.GreyBoard, synth.BlackCloth, synth.WoodBoard} {
			s := synth.Small(face)
			s.Resize(850, 980)
			s.Board = board
			s.Plants = map[string]synth.Plant{}
			for _, cell := range s.Tray.Cells() {
				s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 12}
			}
			photo, _ := testphoto.Drawn(t, s, 1)
			found, err := scene.FindCard(photo, scene.CardOptions{})
			if err != nil {
				t.Fatal(err)
			}
			for what, c := range map[string]struct {
				change        func(l *Layout)
				columns, rows int
			}{
				"the tray's own":        {func(*Layout) {}, 0, 0},
				"two rows":              {func(l *Layout) { l.Rows = 2 }, 0, 1},
				"three columns":         {func(l *Layout) { l.Columns = 3 }, 1, 0},
				"without the first row": {func(l *Layout) { l.Rows, l.FirstV = 2, l.FirstV+l.PitchMM }, 0, -1},
			} {
				l := tray12()
				c.change(&l)
				if columns, rows := MoreCells(found, l, NewMap(found, l).FitGrid()); columns != c.columns || rows != c.rows {
					t.Errorf("%v, board %d, %s: %d columns and %d rows more, want %d and %d", face, board, what, columns, rows, c.columns, c.rows)
				}
			}
		}
	}
}
