package measure

import (
	"math"
	"strings"
	"testing"

	"traygauge/measure/checks"
	"traygauge/measure/testtray"
	"traygauge/vision"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Leaves 40 mm over the card, seen from 480 mm, look larger by (480/440)², 19 %. With the plan's height that is taken out, also from a
// tilted camera; without a focal length it cannot be, and the error bar says so.
func TestLeavesOverTheCardAreMeasuredAtTheirHeight(t *testing.T) {
	for _, c := range []struct {
		name         string
		tilt, planMM float64
		namesFocal   bool
		want, within float64 // bias over the photo in %
	}{
		{"the plan is right", 0, 40, true, 0, 2},
		{"tilted by 12°", 12, 40, true, 0, 2.5},
		{"the plan says 0", 0, 0, true, 19, 2},
		{"the plan says 30: (450/440)²", 0, 30, true, 4.6, 2},
		{"no focal length", 0, 40, false, 19, 2},
	} {
		s := synth.Small(card.Shoots)
		s.Resize(1200, 1383)
		s.LeafHeight, s.Camera.TiltDeg, s.Camera.TiltTurn = 40, c.tilt, 70
		s.Camera.HeightMM *= 1 + c.tilt/60
		s.Plants = map[string]synth.Plant{}
		for i, cell := range s.Tray.Cells() {
			s.Plants[cell] = synth.Plant{Plug: true, Leaves: 3 + i%3, LeafLengthMM: 14}
		}
		r, truth := measured(t, s, testtray.Plan(s.Tray, c.planMM), c.namesFocal)
		var got, want float64
		in, n := 0, 0
		for _, p := range r.Plugs {
			if leaf := truth.Cells[p.Name].Leaf; p.LeafAreaMM2.Known() {
				got, want = got+float64(p.LeafAreaMM2), want+leaf
				n++
				if math.Abs(float64(p.LeafAreaMM2)-leaf) <= float64(p.LeafAreaUMM2) {
					in++
				}
			}
		}
		bias := 100 * (got/want - 1)
		t.Logf("%s: leaf area %+.1f %%, height %.0f mm, %d of %d error bars hold the truth", c.name, bias, float64(r.HeightMM), in, n)
		if !(math.Abs(bias-c.want) < c.within) {
			t.Errorf("%s: leaf area is off by %+.1f %%, want %+.1f", c.name, bias, c.want)
		}
		if c.planMM != 0 && in < n-1 {
			t.Errorf("%s: only %d of %d error bars hold the truth", c.name, in, n)
		}
	}
}

// What an area owes to its height against the change of ((Z − h)/Z)² when Z and h move by their uncertainties.
func TestHeightsShareOfTheErrorBar(t *testing.T) {
	const area, z, h, uZ, uH = 1000.0, 480, 40, 8, 6
	factor := func(z, h float64) float64 { return (z - h) / z * (z - h) / z }
	byZ := area * (factor(z+uZ, h) - factor(z-uZ, h)) / 2 / factor(z, h)
	byH := area * (factor(z, h+uH) - factor(z, h-uH)) / 2 / factor(z, h)
	b := heightParts(&vision.Plane{HeightMM: z, HeightUMM: uZ}, area, h, uH)
	if want := math.Hypot(byZ, byH); len(b) != 1 || math.Abs(b[0].U-want) > 1e-3*want {
		t.Errorf("got %v, by differences %.4f mm²", b, want)
	}
	b = heightParts(&vision.Plane{}, area, h, uH)
	if len(b) != 2 || !strings.Contains(b[1].Name, "unknown height") || math.Abs(b[1].U-2*area*h/checks.UsualHeightMM) > 1e-9 {
		t.Errorf("without a focal length: %v", b)
	}
	if b = heightParts(&vision.Plane{}, area, 0, uH); len(b) != 1 {
		t.Errorf("nothing to allow for: %v", b)
	}
}
