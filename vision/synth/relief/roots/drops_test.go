package roots

import (
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/relief/medium"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Drops of water hide the root below them; the plug stays plug.
func TestDropsHideRoots(t *testing.T) {
	f := flatGround()
	p := solids.Palette{{}, {Owner: solids.OfPlug}}
	for i := range f.Z {
		f.Solid[i] = 1
	}
	plug := make(solids.Coarse, solids.CoarseSide*solids.CoarseSide)
	plug[64*solids.CoarseSide+64] = 1 // one node, so that all drops lie on one place
	h := medium.NewHeap(num.Dice{Rand: rand.New(rand.NewPCG(1, 1))}, f, &p, plug, make(solids.Coarse, solids.CoarseSide*solids.CoarseSide))
	h.Drops(h.Dice, 20, func(x, y float32) float32 { return 1.5 })
	line := straight(10, float64(solids.Width)/2, 30, float64(solids.Width)/2, 1, 0.3, 60)
	_, seen := laid(f, line)
	if seen[0] > 20-0.5 || seen[0] < 20-3.4 {
		t.Errorf("%.2f mm of a line of 20 mm are seen past a heap of drops 0.2 to 3 mm wide, all within 0.4 mm of its middle", seen[0])
	}
	for _, top := range f.Solid {
		if p[top].Owner != solids.OfPlug {
			t.Fatal("a drop on a plug is no longer plug")
		}
	}
}
