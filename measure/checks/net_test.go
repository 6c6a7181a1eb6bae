package checks_test

import (
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Threads 0.6 mm wide every 4 mm, both ways, are a net; three strings of the same width are none. Neither changes the light on the card.
func TestANetOverLeavesIsDoubted(t *testing.T) {
	white := [3]uint8{200, 200, 196}
	var net []synth.Thing
	for at := 0.0; at < 240; at += 4 {
		net = append(net, testtray.Box(at, 0, at+0.6, 180, white))
		if at < 180 {
			net = append(net, testtray.Box(0, at, 240, at+0.6, white))
		}
	}
	for what, c := range map[string]struct {
		over    []synth.Thing
		doubted bool
	}{
		"a net":         {net, true},
		"three strings": {[]synth.Thing{net[10], net[31], net[60]}, false},
		"nothing":       {nil, false},
	} {
		s := testtray.Small(card.Shoots)
		s.Things = c.over
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		if got := testtray.Concern(r, reading.VeilOverTray); (got.Kind != "") != c.doubted {
			t.Errorf("%s: %s %+v", what, r.Verdict(), r.Concerns)
		}
	}
}
