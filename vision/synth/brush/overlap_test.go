package brush

import (
	"math"
	"testing"
)

// Many bent roots over each other, against a plain rendering that knows nothing of shares: each texel is cut into 6 × 6 points, and a
// point belongs to the last root that comes within its half width of it. The middle line is cut into points of 1/100 mm.
func TestTangleHasTheAreaAndLengthOfAPlainRendering(t *testing.T) {
	d := dice{seeded(3)}
	p := newPainting()
	tangle := make([]*ribbon, 30)
	for k := range tangle {
		tangle[k] = bent(d)
		brown := k%3 == 0
		p.trace(tangle[k], func(i int, t *touch) { p.layRoot(i, t.share(), t.line, rgb{1, 1, 1}, brown) })
	}
	white, brown, line := amounts(p)
	const cut = 6
	owner := make([]uint8, cut*side*cut*side)
	for k, b := range tangle {
		stamp(b, cut, func(i int) { owner[i] = uint8(k + 1) })
	}
	var areas [2]float64
	for _, k := range owner {
		if k > 0 {
			areas[min(1, int(k-1)%3)] += 1.0 / (cut * cut * perMM * perMM)
		}
	}
	if math.Abs(brown/areas[0]-1) > 0.005 || math.Abs(white/areas[1]-1) > 0.005 {
		t.Errorf("areas white %.3f and brown %.3f mm², want %.3f and %.3f", white, brown, areas[1], areas[0])
	}
	length := 0.0
	for k, b := range tangle {
		for n := range len(b.points) - 1 {
			for s := 0.5 / 20; s < 1; s += 1.0 / 20 {
				at := b.points[n].along(b.points[n+1].minus(b.points[n]), s)
				x, y := int(cut*at.x), int(cut*at.y)
				if x >= 0 && y >= 0 && x < cut*side && y < cut*side && owner[y*cut*side+x] == uint8(k+1) {
					length += b.step / 20 / perMM
				}
			}
		}
	}
	if math.Abs(line/length-1) > 0.005 {
		t.Errorf("length %.2f mm, want %.2f", line, length)
	}
}

// bent draws a gently bent root that does not cross itself, at least 0.2 mm wide so that its middle line has points of its own.
func bent(d dice) *ribbon {
	b := &ribbon{step: 2.4}
	at, way, bend := vec{d.between(100, 400), d.between(100, 400)}, d.direction(), d.between(-0.015, 0.015)
	half := d.between32(1.2, 6)
	for range 100 {
		b.points = append(b.points, at)
		b.half = append(b.half, half)
		way = way.turned(bend)
		at = at.along(way, b.step)
	}
	return b
}

// stamp runs set for each point, of cut × cut to a texel, within half a width of the ribbon's middle line.
func stamp(b *ribbon, cut int, set func(i int)) {
	for k := range len(b.points) - 1 {
		a, d := b.points[k], b.points[k+1].minus(b.points[k])
		half := float64(b.half[k])
		x0, x1 := int(float64(cut)*(min(a.x, a.x+d.x)-half)), int(float64(cut)*(max(a.x, a.x+d.x)+half))
		y0, y1 := int(float64(cut)*(min(a.y, a.y+d.y)-half)), int(float64(cut)*(max(a.y, a.y+d.y)+half))
		for y := max(0, y0); y <= min(cut*side-1, y1); y++ {
			for x := max(0, x0); x <= min(cut*side-1, x1); x++ {
				at := vec{(float64(x) + 0.5) / float64(cut), (float64(y) + 0.5) / float64(cut)}.minus(a)
				s := math.Max(0, math.Min(1, at.dot(d)/d.dot(d)))
				if at.minus(d.times(s)).length() <= half {
					set(y*cut*side + x)
				}
			}
		}
	}
}

// A lateral's first point lies on its parent's middle line, and the parent is painted later, so that its body hides the lateral's
// beginning: of a lateral 10 mm long that leaves a parent 1.2 mm wide at a right angle, 9.4 mm are to be seen.
func TestLateralBeginsAtItsParentsEdge(t *testing.T) {
	p := newPainting()
	parent := straight(vec{100, 256.3}, vec{1, 0}, 25*perMM, 1.2*perMM, 2.5)
	lateral := straight(parent.points[50], vec{0, 1}, 10*perMM, 0.3*perMM, 2.5)
	lateral.blunt = false
	layPlain(p, lateral)
	layPlain(p, parent)
	if _, _, line := amounts(p); math.Abs(line-(25+9.4)) > 0.02 {
		t.Errorf("length %.3f mm, want %.3f", line, 25+9.4)
	}
	g := &growth{dice: dice{seeded(9)}, plug: &plug{middle: vec{256, 256}, half: 200, corner: 200}, crowd: &crowd{},
		enough: amount{area: 80, length: 900, count: 5}, spread: 0.3}
	h := fibrous(g.dice)
	h.common(g.dice, true)
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
		for _, at := range q.points {
			if at == r.points[0] {
				return true
			}
		}
	}
	return false
}

// What lies on a root takes its labels away: under the middle of a drop, a grain or a thing from outside nothing is left of it.
func TestWhatLiesOnARootHidesIt(t *testing.T) {
	for name, cover := range map[string]func(s *scene){
		"drop":  func(s *scene) { s.drop(vec{256, 256}, 30) },
		"grain": func(s *scene) { newLump(s.dice, vec{256, 256}, 30, false).paint(s) },
	} {
		s := newScene(dice{seeded(1)})
		layPlain(s.painting, straight(vec{100, 256}, vec{1, 0}, 25*perMM, 1.5*perMM, 2.5))
		at := 256*side + 256
		if s.White[at] != 1 {
			t.Fatalf("no root to cover: share %g", s.White[at])
		}
		_, _, before := amounts(s.painting)
		cover(s)
		if s.White[at] != 0 || s.Line[at] != 0 {
			t.Errorf("%s leaves %g of a root and %g mm of its line", name, s.White[at], s.Line[at])
		}
		if _, _, after := amounts(s.painting); before-after < 3 || before-after > 8 {
			t.Errorf("%s of 5 mm hides %.2f mm", name, before-after)
		}
	}
}
