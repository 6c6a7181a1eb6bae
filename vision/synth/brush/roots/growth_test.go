package roots

import (
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/tray"
)

// Each lateral begins on a point of a root of the order before that is painted after it.
func TestLateralsBeginOnTheirParents(t *testing.T) {
	g := &growth{Dice: num.Dice{Rand: rand.New(rand.NewPCG(9, 17))}, plug: &tray.Plug{Middle: num.At(256, 256), Half: 200, Corner: 200}, crowd: &crowd{},
		enough: amount{area: 80, length: 900, count: 5}, spread: 0.3}
	h := fibrous(g.Dice)
	h.common(g.Dice, true)
	g.grow([]*habit{h})
	laterals := 0
	for _, r := range g.roots {
		if !r.lateral {
			continue
		}
		laterals++
		if !begins(r, g.roots) {
			t.Errorf("a lateral of order %d begins on no root that is painted after it", r.order)
		}
	}
	if laterals < 10 {
		t.Errorf("only %d laterals grew", laterals)
	}
}

// begins reports whether a root's first point is one of a root of the order before that lies on top of it.
func begins(r *root, all []*root) bool {
	for _, q := range all {
		if q.order != r.order-1 || q.depth <= r.depth {
			continue
		}
		for _, at := range q.Points {
			if at == r.Points[0] {
				return true
			}
		}
	}
	return false
}
