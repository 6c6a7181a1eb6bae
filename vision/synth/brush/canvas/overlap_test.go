package canvas

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/brush/num"
)

// Many bent roots over each other, against a plain rendering that knows nothing of shares: each texel is cut into 6 × 6 points, and a
// point belongs to the last root that comes within its half width of it. The middle line is cut into points of 1/100 mm.
func TestTangleHasTheAreaAndLengthOfAPlainRendering(t *testing.T) {
	d := num.Dice{Rand: rand.New(rand.NewPCG(3, 17))}
	p := NewPainting()
	tangle := make([]*Ribbon, 30)
	for k := range tangle {
		tangle[k] = bent(d)
		brown := k%3 == 0
		p.Trace(tangle[k], func(i int, t *Touch) { p.LayRoot(i, t.Share(), t.Line, num.RGB{1, 1, 1}, brown) })
	}
	white, brown, line := amounts(p)
	const cut = 6
	owner := make([]uint8, cut*Side*cut*Side)
	for k, b := range tangle {
		stamp(b, cut, func(i int) { owner[i] = uint8(k + 1) })
	}
	var areas [2]float64
	for _, k := range owner {
		if k > 0 {
			areas[min(1, int(k-1)%3)] += 1.0 / (cut * cut * PerMM * PerMM)
		}
	}
	if math.Abs(brown/areas[0]-1) > 0.005 || math.Abs(white/areas[1]-1) > 0.005 {
		t.Errorf("areas white %.3f and brown %.3f mm², want %.3f and %.3f", white, brown, areas[1], areas[0])
	}
	length := 0.0
	for k, b := range tangle {
		for n := range len(b.Points) - 1 {
			for s := 0.5 / 20; s < 1; s += 1.0 / 20 {
				at := b.Points[n].Along(b.Points[n+1].Minus(b.Points[n]), s)
				x, y := int(cut*at.X), int(cut*at.Y)
				if x >= 0 && y >= 0 && x < cut*Side && y < cut*Side && owner[y*cut*Side+x] == uint8(k+1) {
					length += b.Step / 20 / PerMM
				}
			}
		}
	}
	if math.Abs(line/length-1) > 0.005 {
		t.Errorf("length %.2f mm, want %.2f", line, length)
	}
}

// bent draws a gently bent root that does not cross itself, at least 0.2 mm wide so that its middle line has points of its own.
func bent(d num.Dice) *Ribbon {
	b := &Ribbon{Step: 2.4}
	at, way, bend := num.At(d.Between(100, 400), d.Between(100, 400)), d.Direction(), d.Between(-0.015, 0.015)
	half := d.Between32(1.2, 6)
	for range 100 {
		b.Points = append(b.Points, at)
		b.Half = append(b.Half, half)
		way = way.Turned(bend)
		at = at.Along(way, b.Step)
	}
	return b
}

// stamp runs set for each point, of cut × cut to a texel, within half a width of the ribbon's middle line.
func stamp(b *Ribbon, cut int, set func(i int)) {
	for k := range len(b.Points) - 1 {
		a, d := b.Points[k], b.Points[k+1].Minus(b.Points[k])
		half := float64(b.Half[k])
		x0, x1 := int(float64(cut)*(min(a.X, a.X+d.X)-half)), int(float64(cut)*(max(a.X, a.X+d.X)+half))
		y0, y1 := int(float64(cut)*(min(a.Y, a.Y+d.Y)-half)), int(float64(cut)*(max(a.Y, a.Y+d.Y)+half))
		for y := max(0, y0); y <= min(cut*Side-1, y1); y++ {
			for x := max(0, x0); x <= min(cut*Side-1, x1); x++ {
				at := num.At((float64(x)+0.5)/float64(cut), (float64(y)+0.5)/float64(cut)).Minus(a)
				s := math.Max(0, math.Min(1, at.Dot(d)/d.Dot(d)))
				if at.Minus(d.Times(s)).Length() <= half {
					set(y*cut*Side + x)
				}
			}
		}
	}
}

// A lateral's first point lies on its parent's middle line, and the parent is painted later, so that its body hides the lateral's
// beginning: of a lateral 10 mm long that leaves a parent 1.2 mm wide at a right angle, 9.4 mm are to be seen.
func TestLateralBeginsAtItsParentsEdge(t *testing.T) {
	p := NewPainting()
	parent := straight(num.At(100, 256.3), num.At(1, 0), 25*PerMM, 1.2*PerMM, 2.5)
	lateral := straight(parent.Points[50], num.At(0, 1), 10*PerMM, 0.3*PerMM, 2.5)
	lateral.Blunt = false
	layPlain(p, lateral)
	layPlain(p, parent)
	if _, _, line := amounts(p); math.Abs(line-(25+9.4)) > 0.02 {
		t.Errorf("length %.3f mm, want %.3f", line, 25+9.4)
	}
}
