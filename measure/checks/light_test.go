package checks_test

import (
	"slices"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A lamp of another colour over half of the tray, while the card lies in white light, is reported, and nothing is measured by hue; so is a shadow that leaves a
// tenth of the light to half of the roots. A soft shadow of a third is neither, and leaves are measured in any.
func TestLightThatChangesOverTheTrayIsTold(t *testing.T) {
	for _, c := range []struct {
		what   string
		face   card.Face
		change func(*synth.Light)
		kind   reading.Kind
	}{
		{"pink over half", card.Shoots, func(l *synth.Light) { l.Shadow, l.ShadowGains = 0.01, [3]float64{1, 0.3, 0.9} }, reading.MixedLight},
		{"pink over half", card.Roots, func(l *synth.Light) { l.Shadow, l.ShadowGains = 0.01, [3]float64{1, 0.3, 0.9} }, reading.MixedLight},
		{"a little pink over half", card.Shoots, func(l *synth.Light) { l.Shadow, l.ShadowGains = 0.01, [3]float64{1, 0.68, 0.95} }, reading.MixedLight},
		{"a little pink over half", card.Roots, func(l *synth.Light) { l.Shadow, l.ShadowGains = 0.01, [3]float64{1, 0.68, 0.95} }, reading.MixedLight},
		{"a deep shadow", card.Roots, func(l *synth.Light) { l.Shadow = 0.9 }, reading.Shadow},
		{"a soft shadow", card.Roots, func(l *synth.Light) { l.Shadow = 0.33 }, ""},
		{"a soft shadow", card.Shoots, func(l *synth.Light) { l.Shadow = 0.33 }, ""},
	} {
		s := testtray.Small(c.face)
		s.Light.ShadowTurn = 90
		c.change(&s.Light)
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		if (c.kind != "") != (r.Verdict() == reading.VerdictDoubt) || c.kind != "" && !slices.Contains(testtray.Kinds(r), c.kind) {
			t.Errorf("%s on the %v: %s %+v", c.what, c.face, r.Verdict(), r.Concerns)
		}
		for _, p := range r.Plugs {
			if told := p.ChloroticPct.Known() || p.RootBrowningPct.Known(); c.kind == reading.MixedLight && (told || !p.RootAreaMM2.Known() && !p.LeafAreaMM2.Known()) {
				t.Errorf("%s on the %v: %s: %+v", c.what, c.face, p.Name, p)
			}
		}
	}
}
