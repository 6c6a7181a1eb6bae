package synth

import (
	"bytes"
	"math"
	"testing"

	"traygauge/vision/card"
)

func TestSmallShowsAllOfItsTray(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s := Small(face)
		_, truth := draw(t, s)
		for name, p := range truth.Corners {
			if p[0] < 10 || p[1] < 10 || p[0] > 1690 || p[1] > 1950 {
				t.Errorf("%v: the tray's corner %s is at %.0f, %.0f of 1700 × 1960", face, name, p[0], p[1])
			}
		}
		// f = 50 / √(36² + 24²) · √(1700² + 1960²) px over 480 mm.
		near(t, "px a mm", math.Hypot(truth.Corners["A1"][0]-truth.Corners["A4"][0], truth.Corners["A1"][1]-truth.Corners["A4"][1])/240,
			50/math.Hypot(36, 24)*math.Hypot(1700, 1960)/480, 1e-6)
	}
}

// Lines on a plug are what the cell's truth says, whatever lies around them.
func TestLinesOnAPlug(t *testing.T) {
	s := Small(card.Roots)
	comb := Comb(card.Pt{}, 16, 3, 30, 0.1, 0.2, 0.4, 0.8)
	s.Plants = map[string]Plant{"B2": {Plug: true, Lines: comb}, "B3": {Plug: true}}
	with, truth := draw(t, s)
	c := truth.Cells["B2"]
	near(t, "area", c.RootAreaMM2, 16*1.5, 1e-9)
	near(t, "length", c.RootLengthMM, 64, 1e-9)
	if c.PlugAreaMM2 == 0 || truth.Cells["B3"].RootAreaMM2 != 0 {
		t.Errorf("the plug has %g mm², the bare one %g mm² of root", c.PlugAreaMM2, truth.Cells["B3"].RootAreaMM2)
	}
	s.Plants["B2"] = Plant{Plug: true}
	without, _ := draw(t, s)
	if bytes.Equal(with.Pix, without.Pix) {
		t.Error("no line is in the picture")
	}
	for name, p := range map[string]Plant{
		"on an empty cell": {Lines: comb},
		"beside roots":     {Plug: true, RootLengthMM: 100, Lines: comb},
		"off the plug":     {Plug: true, Lines: Comb(card.Pt{X: 9}, 16, 3, 0, 0.2)},
		"of one point":     {Plug: true, Lines: []Line{{Points: []card.Pt{{}}, WidthMM: 1}}},
	} {
		s.Plants["B2"] = p
		if _, _, err := Draw(s); err == nil {
			t.Errorf("lines %s: drawn", name)
		}
	}
}

// A neighbour's leaves hide but are not counted, and the tray's own stay the same elsewhere.
func TestNeighboursLeavesAreNotCounted(t *testing.T) {
	s := Small(card.Shoots)
	s.Plants = map[string]Plant{
		"A1": {Plug: true, Leaves: 5, LeafLengthMM: 18}, "C1": {Plug: true, Leaves: 5, LeafLengthMM: 18},
		"C2": {Plug: true, Leaves: 5, LeafLengthMM: 18},
	}
	_, alone := draw(t, s)
	s.NeighbourMM = 45
	_, beside := draw(t, s)
	near(t, "far plant", beside.Cells["A1"].LeafAreaMM2, alone.Cells["A1"].LeafAreaMM2, 0.5)
	rowC := func(x Truth) float64 { return x.Cells["C1"].LeafAreaMM2 + x.Cells["C2"].LeafAreaMM2 }
	if lost := rowC(alone) - rowC(beside); lost < -1 || lost > 0.5*rowC(alone) {
		t.Errorf("the neighbour hides %.1f of %.1f mm²", lost, rowC(alone))
	}
	if beside.Present != 3 {
		t.Errorf("%d plants, want 3", beside.Present)
	}
}

// What a scene adds must be seen: labels on the tray's top.
func TestSticksAreDrawn(t *testing.T) {
	s := Small(card.Shoots)
	bare, _ := draw(t, s)
	s.Sticks = 3
	labelled, _ := draw(t, s)
	changed := 0
	for i := range bare.Pix {
		if d := int(bare.Pix[i]) - int(labelled.Pix[i]); d > 40 || d < -40 {
			changed++
		}
	}
	if changed/3 < 3*20*10*20 { // three labels, 200 mm² each at least
		t.Errorf("%d values changed", changed)
	}
}
