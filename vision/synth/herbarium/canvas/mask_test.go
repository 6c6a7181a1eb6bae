package canvas

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/herbarium/num"
)

func total(s []float32) (sum float64) {
	for _, v := range s {
		sum += float64(v)
	}
	return sum
}

// The area of a triangle is half the cross product of two sides, and so must be that of what it covers.
func TestCoverageIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var m Mask
	for range 2000 {
		a, b, c := num.At(50*r.Float64(), 50*r.Float64()), num.At(50*r.Float64(), 50*r.Float64()), num.At(50*r.Float64(), 50*r.Float64())
		want := math.Abs((b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X)) / 2
		if !m.cut(50, num.Ring{a, b, c}.Facing(false)) {
			t.Fatal("nothing is covered")
		}
		if got := total(m.cover); math.Abs(got-want) > 0.02 {
			t.Fatalf("%v %v %v cover %.3f texels, want %.3f", a, b, c, got, want)
		}
	}
}

// A square of 20 texels whose corner lies 7 and 4 texels outside the drawing leaves 13 × 16 in it. A hole of 5 × 5 takes 25.
func TestCoverageEndsAtTheDrawingsBorder(t *testing.T) {
	var m Mask
	square := num.Ring{{X: -7, Y: -4}, {X: 13, Y: -4}, {X: 13, Y: 16}, {X: -7, Y: 16}}.Facing(false)
	hole := num.Ring{{X: 2.5, Y: 3}, {X: 7.5, Y: 3}, {X: 7.5, Y: 8}, {X: 2.5, Y: 8}}.Facing(true)
	m.cut(50, square, hole)
	if got := total(m.cover); math.Abs(got-(13*16-25)) > 1e-3 {
		t.Errorf("%.3f texels are covered, want %d", got, 13*16-25)
	}
	if m.cut(50, num.Ring{{X: -9, Y: 3}, {X: -2, Y: 3}, {X: -4, Y: 8}}) {
		t.Error("what lies outside is said to lie in the drawing")
	}
}

// Half a texel of one leaf, half of that covered by another's, and a quarter of all by a label: 1/2 · 1/2 · 3/4 of the first is left
// and 1/2 · 3/4 of the second; half of the second is dead.
func TestLayersKeepWhatTheyLeaveUncovered(t *testing.T) {
	c := NewCanvas(1, 6, LampOf(num.Dice{Rand: rand.New(rand.NewPCG(1, 0x6c656166))}))
	c.lay(0, 0.5, &layer{plant: 1})
	c.lay(0, 0.5, &layer{plant: 2, dead: 0.5})
	c.lay(0, 0.25, &layer{})
	if leaf, dead := c.Leaf[0], c.Dead[0]; leaf != 0.1875+0.375 || dead != 0.1875 {
		t.Errorf("leaf %.4f and dead %.4f, want 0.5625 and 0.1875", leaf, dead)
	}
	if c.Plant[0] != 2 {
		t.Errorf("the texel is plant %d's, want 2", c.Plant[0])
	}
}
