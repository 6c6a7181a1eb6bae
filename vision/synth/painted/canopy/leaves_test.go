package canopy

import (
	"math"
	"testing"
)

// A blade whose half width is even is a rectangle.
func TestRectangularLeaf(t *testing.T) {
	l := &Leaf{Cell: "A1", X: 30, Y: 30, azimuth: 25, length: 20, width: 8}
	l.finish(132, 40)
	for side := range l.sides {
		for i := range l.sides[side] {
			l.sides[side][i] = 4
		}
	}
	seen := NewCanopy([]*Leaf{l}).Count()["A1"]
	near(t, "area", seen.Leaf, 160, 0.8)
	if seen.Yellow != 0 {
		t.Errorf("a green leaf has %g mm² of yellow", seen.Yellow)
	}
	yellow := &Leaf{Cell: "A1", X: 30, Y: 30, azimuth: 25, length: 20, width: 8, yellow: 1}
	yellow.finish(132, 40)
	seen = NewCanopy([]*Leaf{yellow}).Count()["A1"]
	near(t, "a yellow blade's share", seen.Yellow/(seen.Leaf-seen.Stalk), 1, 0.01)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
