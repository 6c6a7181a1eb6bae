package bench

import (
	"math"
	"testing"

	"traygauge/vision/synth/relief/solids"
)

// A plug 26 mm wide has the area of its circle (530.9 mm²), whatever lies on it; a ragged rim and overhanging crumbs would add to it.
func TestPlugHasTheAreaOfItsOutline(t *testing.T) {
	f := solids.NewRelief()
	l := Layout{Plugs: []Plug{{Outline: Outline{X: 21, Y: 22, Half: 13, Corner: 1, AlongX: 1}}}}
	l.Plug = solids.NewCoarse(func(x, y float32) float32 { _, in := l.nearest(f.Tables, x, y); return in })
	flat := make(solids.Coarse, solids.CoarseSide*solids.CoarseSide)
	b := Bench{Layout: &l, board: &board{solid: 1, low: -3}, Floor: 2, Undulate: flat}
	b.ground(f, 0)
	samples := 0
	for _, solid := range f.Solid {
		if solid == 2 {
			samples++
		}
	}
	if area, want := float64(samples)*solids.Step*solids.Step, math.Pi*13*13; math.Abs(area-want) > 0.002*want {
		t.Errorf("the plug's area is %.2f mm², want %.2f", area, want)
	}
}
