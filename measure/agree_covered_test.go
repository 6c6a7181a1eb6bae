package measure

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// box is a thing from (u0, v0) to (u1, v1) of the tray.
func box(u0, v0, u1, v1 float64, colour [3]uint8) synth.Thing {
	return synth.Thing{Loop: []card.Pt{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}}, SRGB: colour}
}

// Cells of the small tray are 50 mm wide and begin 20 mm from its long end and 15 mm from its side: what lies from 25 to 115 mm along and 20 to 60 mm
// across covers A1 and A2 and no other. Covered plugs are not measured and are named; the others are, and a tray with nothing on it is good.
func TestWhatIsCoveredIsNotMeasured(t *testing.T) {
	for _, c := range []struct {
		what string
		face card.Face
		over synth.Thing
	}{
		{"a hand", card.Roots, box(25, 20, 115, 60, [3]uint8{205, 150, 125})},
		{"a darker hand", card.Shoots, box(25, 20, 115, 60, [3]uint8{150, 100, 75})},
		{"paper", card.Roots, box(25, 20, 115, 60, [3]uint8{240, 240, 238})},
		{"a blue cloth", card.Shoots, box(25, 20, 115, 60, [3]uint8{40, 70, 150})},
	} {
		s := smallTray(c.face)
		s.Things = []synth.Thing{c.over}
		r, _ := measured(t, s, planFor(s.Tray, 0), true)
		got := concern(r, reading.SomethingOnTheTray)
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

// Over half of the tray a sheet leaves too little.
func TestAHalfCoveredTrayIsTakenAgain(t *testing.T) {
	s := smallTray(card.Roots)
	s.Things = []synth.Thing{box(10, 5, 230, 112, [3]uint8{240, 240, 238})}
	if r, _ := measured(t, s, planFor(s.Tray, 0), true); r.Verdict() != reading.VerdictRetake || concern(r, reading.SomethingOnTheTray).Kind == "" {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}
