package checks_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Cells of the small tray are 50 mm wide and begin 20 mm from its long end and 15 mm from its side: what lies from 25 to 115 mm along and 20 to 60 mm
// across covers A1 and A2 and no other. Covered plugs are not measured and are named; the others are, and a tray with nothing on it is good.
func TestWhatIsCoveredIsNotMeasured(t *testing.T) {
	for _, c := range []struct {
		what string
		face card.Face
		over synth.Thing
	}{
		{"a hand", card.Roots, testtray.Box(25, 20, 115, 60, [3]uint8{205, 150, 125})},
		{"a darker hand", card.Shoots, testtray.Box(25, 20, 115, 60, [3]uint8{150, 100, 75})},
		{"paper", card.Roots, testtray.Box(25, 20, 115, 60, [3]uint8{240, 240, 238})},
		{"a blue cloth", card.Shoots, testtray.Box(25, 20, 115, 60, [3]uint8{40, 70, 150})},
	} {
		s := testtray.Small(c.face)
		s.Things = []synth.Thing{c.over}
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		got := testtray.Concern(r, reading.SomethingOnTheTray)
		if r.Verdict() != reading.VerdictDoubt || !strings.Contains(got.Words, "2 plugs (A1, A2)") {
			t.Errorf("%s on the %v: %s %+v", c.what, c.face, r.Verdict(), r.Concerns)
		}
		for _, p := range r.Plugs {
			hidden := p.Name == "A1" || p.Name == "A2"
			if (p.State == reading.Hidden) != hidden || hidden && (p.RootAreaMM2.Known() || p.LeafAreaMM2.Known()) {
				t.Errorf("%s on the %v: %s is %s, %v", c.what, c.face, p.Name, p.State, fmt.Sprint(p.RootAreaMM2, p.LeafAreaMM2))
			}
		}
	}
}

// From below nothing that grows is as strongly coloured as a hose: A1 to A4 lie in one row along the tray, their middles 40 mm from its side.
func TestAHoseAcrossPlugBottomsIsSeen(t *testing.T) {
	for what, colour := range map[string][3]uint8{"green": {30, 145, 60}, "yellow": {220, 190, 40}, "red": {200, 60, 40}} {
		s := testtray.Small(card.Roots)
		s.Things = []synth.Thing{testtray.Box(0, 32, 240, 47, colour)}
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		if got := testtray.Concern(r, reading.SomethingOnTheTray); r.Verdict() != reading.VerdictDoubt || !strings.Contains(got.Words, "A1, A2, A3, A4") {
			t.Errorf("a %s hose: %s %+v", what, r.Verdict(), r.Concerns)
		}
	}
}

// Over half of the tray a sheet leaves too little, and nothing can be included.
func TestAHalfCoveredTrayIsTakenAgain(t *testing.T) {
	s := testtray.Small(card.Roots)
	s.Things = []synth.Thing{testtray.Box(10, 5, 230, 112, [3]uint8{240, 240, 238})}
	r := measured(t, s, testtray.Plan(s.Tray, 0), true)
	c := testtray.Concern(r, reading.SomethingOnTheTray)
	if r.Verdict() != reading.VerdictRetake || c.Kind == "" || strings.Contains(c.Remedy, "include") || len(r.Covered) > 0 {
		t.Errorf("%s %+v, %d plugs to include", r.Verdict(), r.Concerns, len(r.Covered))
	}
}

// Dark and leaf-green things show by what they hide. Plugs of the small tray are 34 mm wide and 50 mm apart, the first row's middles 40 mm from its side: what
// comes down to 33 mm hides a quarter of each of them and to 26 mm, 3 mm of each; from 62 to 68 mm there is the tray alone between rows.
func TestDarkAndGreenThingsAreSeenByWhatTheyHide(t *testing.T) {
	black, grey, green, moss, wood := [3]uint8{32, 32, 33}, [3]uint8{62, 61, 60}, [3]uint8{58, 135, 52}, [3]uint8{34, 58, 30}, [3]uint8{112, 82, 52}
	row := []string{"A1", "A2", "A3", "A4"}
	for _, c := range []struct {
		what   string
		over   synth.Thing
		hidden []string
	}{
		{"a black strap along a row", testtray.Box(0, 36, 240, 44, black), row},
		{"a black cloth's edge over a quarter of each plug", testtray.Box(0, 0, 240, 33, black), row},
		{"a black cloth's edge over 3 mm of each plug", testtray.Box(0, 0, 240, 26, black), nil},
		{"a black strap between two rows", testtray.Box(0, 62, 240, 68, black), nil},
		{"a dark glove's finger over a plug", testtray.Box(85, 0, 105, 70, grey), []string{"A2"}},
		{"a black lid over two plugs", testtray.Box(20, 15, 119, 65, black), []string{"A1", "A2"}},
		{"a dark green cloth over all of a row", testtray.Box(0, 0, 240, 65, moss), row},
		{"a green label across a plug", testtray.Box(70, 34, 120, 46, green), []string{"A2"}},
		{"a wooden handle across two plugs", testtray.Box(0, 32, 115, 48, wood), []string{"A1", "A2"}},
		{"something black within a plug", testtray.Box(87, 32, 103, 48, black), []string{"A2"}},
		{"nothing", testtray.Box(-60, 20, -50, 30, black), nil},
	} {
		s := testtray.Small(card.Roots)
		s.Things = []synth.Thing{c.over}
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		var hidden []string
		for _, p := range r.Plugs {
			if p.State == reading.Hidden {
				hidden = append(hidden, p.Name)
				if was, ok := r.CoveredPlug(p.Name); p.RootAreaMM2.Known() || ok && !was.RootAreaMM2.Known() { // nothing is seen of a plug that is covered whole
					t.Errorf("%s: of %s %v mm² count, and %v mm² would if it were included", c.what, p.Name, p.RootAreaMM2, was.RootAreaMM2)
				}
			} else if p.State != reading.Planted {
				t.Errorf("%s: %s is %s", c.what, p.Name, p.State)
			}
		}
		if !slices.Equal(hidden, c.hidden) {
			t.Errorf("%s: hidden are %v, want %v", c.what, hidden, c.hidden)
		}
		got := testtray.Concern(r, reading.SomethingOnTheTray)
		for _, name := range c.hidden {
			if !strings.Contains(got.Words, name) || !strings.Contains(got.Remedy, name) {
				t.Errorf("%s: %q, %q do not name %s", c.what, got.Words, got.Remedy, name)
			}
			if !strings.Contains(got.Remedy, "include it in review") {
				t.Errorf("%s: nothing says what to do where it is a false alarm: %q", c.what, got.Remedy)
			}
		}
		if strap := c.what == "a black strap along a row"; c.hidden == nil && len(r.Covered) > 0 || strap && len(r.Covered) != len(row) {
			t.Errorf("%s: %d plugs can be included", c.what, len(r.Covered))
		}
		if good := r.Verdict() == reading.VerdictGood; good != (c.hidden == nil) {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}

// An empty cell is empty, whatever the tray's other cells hold: its rim shows.
func TestAnEmptyCellIsNotCovered(t *testing.T) {
	s := testtray.Small(card.Roots)
	for _, cell := range []string{"A1", "B2", "B3", "C4"} {
		delete(s.Plants, cell)
	}
	r := measured(t, s, testtray.Plan(s.Tray, 0), true)
	for _, p := range r.Plugs {
		if _, planted := s.Plants[p.Name]; (p.State == reading.Empty) == planted {
			t.Errorf("%s is %s", p.Name, p.State)
		}
	}
	if r.Verdict() != reading.VerdictGood {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}

// From above, too: cells of the small tray are 50 mm apart, the walls of the first row's run 15 and 65 mm from its side. A plant label across a wall does no harm.
func TestThingsOverPlantsAreSeenByTheWallsTheyHide(t *testing.T) {
	black, moss, wood, grey := [3]uint8{32, 32, 33}, [3]uint8{34, 58, 30}, [3]uint8{112, 82, 52}, [3]uint8{120, 119, 117}
	for _, c := range []struct {
		what   string
		over   synth.Thing
		hidden []string
	}{
		{"a black glove over two plants", testtray.Box(25, 0, 115, 70, black), []string{"A1", "A2"}},
		{"a black strap along a row", testtray.Box(0, 30, 240, 50, black), []string{"A1", "A2", "A3", "A4"}},
		{"a dark green cloth over two rows", testtray.Box(100, 0, 240, 112, moss), []string{"A2", "A3", "A4", "B2", "B3", "B4"}},
		{"a wooden handle", testtray.Box(85, 0, 107, 180, wood), []string{"A2", "B2", "C2"}},
		{"a grey lid over a plant", testtray.Box(68, 14, 122, 66, grey), []string{"A2"}},
		{"a plant label across a wall", testtray.Box(50, 34, 95, 46, [3]uint8{220, 220, 214}), nil},
		{"something black beside the tray", testtray.Box(-60, 20, -50, 30, black), nil},
	} {
		s := testtray.Small(card.Shoots)
		s.Things = []synth.Thing{c.over}
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		for _, p := range r.Plugs {
			want := slices.Contains(c.hidden, p.Name)
			if got := p.State == reading.Hidden; got != want {
				t.Errorf("%s: %s is %s", c.what, p.Name, p.State)
			}
		}
		want := reading.VerdictDoubt
		if c.hidden == nil {
			want = reading.VerdictGood
		}
		if len(c.hidden) >= 6 {
			want = reading.VerdictRetake // half of the tray
		}
		if r.Verdict() != want {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}
