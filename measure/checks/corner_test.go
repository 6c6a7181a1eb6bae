package checks_test

import (
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// Plugs are 50 mm apart. A card that lies so far along would give every plug its neighbour's name; one that a hand laid down 6 mm off does not.
func TestCardAPlugAwayIsRefused(t *testing.T) {
	for _, c := range []struct {
		face card.Face
		mm   float64
		off  bool
	}{{card.Shoots, 50, true}, {card.Roots, -50, true}, {card.Shoots, 6, false}, {card.Roots, -6, false}} {
		s := testtray.Small(c.face)
		s.CardX = c.mm
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		want := map[bool]reading.Verdict{true: reading.VerdictRetake, false: reading.VerdictGood}[c.off]
		if got := testtray.Concern(r, reading.CardNotAtA1); r.Verdict() != want || (got.Kind != "") != c.off {
			t.Errorf("%v, %g mm off: %s %+v", c.face, c.mm, r.Verdict(), r.Concerns)
		}
	}
}
