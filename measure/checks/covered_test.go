package checks_test

import (
	"fmt"
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

// Over half of the tray a sheet leaves too little.
func TestAHalfCoveredTrayIsTakenAgain(t *testing.T) {
	s := testtray.Small(card.Roots)
	s.Things = []synth.Thing{testtray.Box(10, 5, 230, 112, [3]uint8{240, 240, 238})}
	if r := measured(t, s, testtray.Plan(s.Tray, 0), true); r.Verdict() != reading.VerdictRetake || testtray.Concern(r, reading.SomethingOnTheTray).Kind == "" {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}
