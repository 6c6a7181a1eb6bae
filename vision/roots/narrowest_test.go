package roots

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A cloth that comes so many mm over plugs 34 mm wide leaves as much less of the diameter that runs towards it: 34 less 4, 8 or 12. Plugs are drawn up to 1.5 mm off the
// middles of their cells, 0.05 of a diameter. Plugs in other rows are whole.
func TestTheNarrowestDiameterIsWhatAClothLeaves(t *testing.T) {
	for _, over := range []float64{4, 8, 12} {
		s := fullTray(300)
		to := s.Tray.FirstV - s.Tray.PlugBottomMM/2 + over
		s.Things = []synth.Thing{{Loop: []card.Pt{{X: -10, Y: -5}, {X: 250, Y: -5}, {X: 250, Y: to}, {X: -10, Y: to}}, SRGB: [3]uint8{34, 58, 30}}}
		plugs, _ := plugsOf(t, s)
		for _, plug := range plugs {
			want := 1.0
			if plug.Row == 0 {
				want = 1 - over/s.Tray.PlugBottomMM
			}
			if math.Abs(plug.Narrowest-want) > 0.1 || plug.Beyond {
				t.Errorf("%g mm under a cloth: row %d, column %d has a narrowest diameter of %.2f, want %.2f", over, plug.Row, plug.Col, plug.Narrowest, want)
			}
		}
	}
}

// More than a quarter of the edge of a patch of 40 × 40 pixels is more than one side of it.
func TestAPlugThatGoesOnBeyondItsPatch(t *testing.T) {
	const side = 40
	filled := func(from, to int) []float32 {
		plug := make([]float32, side*side)
		for i := range plug {
			if x := i % side; x >= from && x < to {
				plug[i] = 1
			}
		}
		return plug
	}
	c := &rootCell{p: &prepared{w: side, h: side}}
	for _, p := range []struct {
		from, to int
		beyond   bool
	}{{0, side, true}, {20, side, true}, {35, side, true}, {12, 28, false}, {1, 4, false}, {0, 0, false}} {
		if got := c.goesBeyond(filled(p.from, p.to)); got != p.beyond {
			t.Errorf("columns %d to %d: %v", p.from, p.to, got)
		}
	}
}
