package checks_test

import (
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Leaves beside the card's roots face, and plug bottoms beside its shoots face, are to be taken again, whatever has grown, and whether the tray lies
// where that face has it or where the right one has it, so that half of its plugs are elsewhere.
func TestTheWrongFaceOfTheCardIsTold(t *testing.T) {
	for _, c := range []struct {
		what  string
		plant synth.Plant
		algae float64
	}{
		{"seedlings", synth.Plant{Plug: true, Leaves: 2, LeafLengthMM: 7, RootLengthMM: 40}, 0},
		{"sick, under algae", synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 18, RootLengthMM: 300, RootBrown: 0.3, Yellow: 0.4}, 0.4},
	} {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			shows := card.Roots + card.Shoots - face
			s := testtray.Small(face)
			s.Shows, s.Algae = shows, c.algae
			if c.algae > 0 {
				s = testtray.Small(shows)
				s.CardUp, s.Algae = face, c.algae
			}
			for name := range s.Plants {
				s.Plants[name] = c.plant
			}
			delete(s.Plants, "B2")
			r := measured(t, s, testtray.Plan(s.Tray, 0), true)
			got := testtray.Concern(r, reading.WrongSide)
			if r.Verdict() != reading.VerdictRetake || !strings.Contains(got.Words, face.String()+" face is up") || !strings.Contains(got.Remedy, shows.String()+" face is up") {
				t.Errorf("%s, %v beside the card's %v face: %s %+v", c.what, shows, face, r.Verdict(), r.Concerns)
			}
		}
	}
}

// A tray with not one plant may be a tray on which all died, and is to be looked at.
func TestATrayWithoutAnyPlantIsDoubted(t *testing.T) {
	s := testtray.Small(card.Shoots)
	for name := range s.Plants {
		s.Plants[name] = synth.Plant{Plug: true}
	}
	r := measured(t, s, testtray.Plan(s.Tray, 0), true)
	if got := testtray.Concern(r, reading.HardlyAnyPlants); r.Verdict() != reading.VerdictDoubt || !strings.Contains(got.Words, "12 plugs") {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}
