package roots

import (
	"reflect"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/testphoto"
	"traygauge/vision/tray"
)

// smallScene is a photo of a small tray with plants in every other cell, and the tray.
func smallScene(t *testing.T, face card.Face) (*scene.Scene, tray.Layout) {
	t.Helper()
	s, err := scene.FindCard(testphoto.EveryOtherCell(t, face), scene.CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return s, smallTray()
}

// Set by hand to where it was found, a grid changes nothing. Moved by a pitch, each plug goes by its neighbour's name.
func TestAGridSetByHandIsMeasuredBy(t *testing.T) {
	s, small := smallScene(t, card.Roots)
	found, grid, err := Measure(s, small)
	if err != nil {
		t.Fatal(err)
	}
	small.Grid = &grid
	if same, got, err := Measure(s, small); err != nil || got != grid || !reflect.DeepEqual(same, found) {
		t.Errorf("the grid set to where it was found gives other plugs: %+v, %v", got, err)
	}
	moved := grid
	moved.U += small.PitchMM
	small.Grid = &moved
	given, got, err := Measure(s, small)
	if err != nil || got != moved {
		t.Fatalf("%+v, %v; want %+v", got, err, moved)
	}
	for i, p := range given {
		if beyond := p.Col == small.Columns-1; !beyond && p.Empty != found[i+1].Empty {
			t.Errorf("plug %d/%d: empty %v, its neighbour was found empty %v", p.Row, p.Col, p.Empty, found[i+1].Empty)
		}
	}
}
