package card

import (
	"math"
	"testing"
)

// The card's corner that touches the tray is the tray's A1 corner, and the tray lies below the card's lower edge.
func TestDockCornerIsTheTraysA1Corner(t *testing.T) {
	for _, f := range []Face{Roots, Shoots} {
		if u, v := f.ToTray(f.DockCorner()); u != 0 || v != 0 {
			t.Errorf("%v: the dock corner is at (%v, %v) of the tray", f, u, v)
		}
		u, v := f.ToTray(f.FromTray(45, 40))
		if math.Abs(u-45) > 1e-12 || math.Abs(v-40) > 1e-12 {
			t.Errorf("%v: there and back (45, 40) became (%v, %v)", f, u, v)
		}
	}
	// The tray turned over: columns run to the left on the roots face, to the right on the shoots face.
	if p := Roots.FromTray(10, 20); p != (Pt{140, 120}) {
		t.Errorf("roots: %v", p)
	}
	if p := Shoots.FromTray(10, 20); p != (Pt{10, 120}) {
		t.Errorf("shoots: %v", p)
	}
}

func TestNothingOnTheCardLiesOverAnother(t *testing.T) {
	m := Markers()
	fields := append([]Rect{}, m[:]...)
	for _, p := range append(append([]Patch{}, asSlice(ToneStrip())...), asSlice(ColourStrip())...) {
		fields = append(fields, p.Rect)
	}
	// The turned edge square reaches half of 22·(sin 5° + cos 5°) = 11.92 mm from its middle.
	const reach = 11.92
	c := EdgeSquareCentre
	fields = append(fields, WhiteWindow, Rect{Pt{c.X - reach, c.Y - reach}, Pt{c.X + reach, c.Y + reach}})
	for i, a := range fields {
		if a.Min.X < 0 || a.Min.Y < 0 || a.Max.X > Width || a.Max.Y > Height {
			t.Errorf("%v leaves the card", a)
		}
		for _, b := range fields[i+1:] {
			if a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y {
				t.Errorf("%v lies over %v", a, b)
			}
		}
	}
}

func asSlice(p [6]Patch) []Patch { return p[:] }

func TestTagsAndFacesShareNoMarker(t *testing.T) {
	for tray := 1; tray <= MostTrays; tray++ {
		id, err := TagID(tray)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, ok := FaceOfMarker(id); ok {
			t.Errorf("tray %d's tag has marker %d of the card", tray, id)
		}
		if back, ok := TrayOfMarker(id); !ok || back != tray {
			t.Errorf("marker %d of tray %d reads as tray %d", id, tray, back)
		}
	}
	for _, tray := range []int{-1, 0, MostTrays + 1} {
		if _, err := TagID(tray); err == nil {
			t.Errorf("tray %d has a tag", tray)
		}
	}
}

// A marker must not look like another one or like itself turned: in every pair some module differs in all four turns.
func TestNoMarkerLooksLikeAnotherTurned(t *testing.T) {
	for a := range 250 {
		for b := a; b < 250; b++ {
			for turn := range 4 {
				if a == b && turn == 0 {
					continue
				}
				if distance(a, b, turn) == 0 {
					t.Errorf("markers %d and %d look alike after %d quarter turns", a, b, turn)
				}
			}
		}
	}
}

// distance counts the modules in which marker a differs from b turned by quarter turns.
func distance(a, b, turns int) (n int) {
	for row := range Modules {
		for col := range Modules {
			r, c := row, col
			for range turns {
				r, c = c, Modules-1-r
			}
			if White(a, row, col) != White(b, r, c) {
				n++
			}
		}
	}
	return n
}
