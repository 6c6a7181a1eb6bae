package sheet

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/num"
)

func TestLinesAreKnownFromGeometry(t *testing.T) {
	straight := Line{Points: []card.Pt{{X: -300, Y: 150}, {X: -200, Y: 150}}, WidthMM: 0.3}
	near(t, "straight line's area", straight.AreaMM2(), 100*0.3, 1e-9)
	near(t, "straight line's length", straight.LengthMM(), 100, 1e-9)
	// Half a ring from r − w/2 to r + w/2 is π r w.
	arc := Line{Points: Arc(card.Pt{X: -100, Y: 200}, 20, 0, 180), WidthMM: 0.5}
	near(t, "half ring's area", arc.AreaMM2(), math.Pi*20*0.5, 0.001)
	near(t, "half ring's length", arc.LengthMM(), math.Pi*20, 0.001)
}

func TestCombIsParallel(t *testing.T) {
	lines := Comb(card.Pt{X: 5, Y: 7}, 10, 2, 35, 0.1, 0.5, 1)
	sin, cos := math.Sincos(num.Rad(35))
	for i, l := range lines {
		near(t, "length", l.LengthMM(), 10, 1e-9)
		a, b := l.Points[0], l.Points[1]
		near(t, "direction", ((b.X-a.X)*cos+(b.Y-a.Y)*sin)/10, 1, 1e-9)
		// The signed distance of the middle from the comb's own middle line.
		mx, my := (a.X+b.X)/2-5, (a.Y+b.Y)/2-7
		near(t, "gap", -mx*sin+my*cos, 2*float64(i-1), 1e-9)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
