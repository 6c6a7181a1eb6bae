package herbarium

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/closeup"
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
	var m mask
	for range 2000 {
		a, b, c := point{50 * r.Float64(), 50 * r.Float64()}, point{50 * r.Float64(), 50 * r.Float64()}, point{50 * r.Float64(), 50 * r.Float64()}
		want := math.Abs((b.x-a.x)*(c.y-a.y)-(b.y-a.y)*(c.x-a.x)) / 2
		if !m.cut(50, ring{a, b, c}.facing(false)) {
			t.Fatal("nothing is covered")
		}
		if got := total(m.cover); math.Abs(got-want) > 0.02 {
			t.Fatalf("%v %v %v cover %.3f texels, want %.3f", a, b, c, got, want)
		}
	}
}

// A square of 20 texels whose corner lies 7 and 4 texels outside the drawing leaves 13 × 16 in it. A hole of 5 × 5 takes 25.
func TestCoverageEndsAtTheDrawingsBorder(t *testing.T) {
	var m mask
	square := ring{{-7, -4}, {13, -4}, {13, 16}, {-7, 16}}.facing(false)
	hole := ring{{2.5, 3}, {7.5, 3}, {7.5, 8}, {2.5, 8}}.facing(true)
	m.cut(50, square, hole)
	if got := total(m.cover); math.Abs(got-(13*16-25)) > 1e-3 {
		t.Errorf("%.3f texels are covered, want %d", got, 13*16-25)
	}
	if m.cut(50, ring{{-9, 3}, {-2, 3}, {-4, 8}}) {
		t.Error("what lies outside is said to lie in the drawing")
	}
}

// laid puts level blades on an empty drawing, one plant each.
func laid(side int, blades []*blade, courses []course) *closeup.Leaves {
	c := newCanvas(side, 6, lampOf(dice{seeded(1)}))
	var pieces []piece
	for i, b := range blades {
		c.Bases = append(c.Bases, [2]float64{})
		pieces = append(pieces, &sheet{plant: uint8(i + 1), blade: b, spine: courses[i].spine(12, 6), skin: plainSkin(lch{40 + 20*float64(i), 30, 120})})
	}
	c.mark(pieces)
	brush := painter{canvas: c}
	for i, one := range pieces {
		if c.now = int32(i); c.mask.cut(side, one.outlines()...) {
			one.paint(&brush)
		}
	}
	return c.finish(&veil{})
}

func plainSkin(own lch) *skin {
	r := rampOf(own, own, own)
	return &skin{surface: surface{curled: 1, rippled: 1, rough: 1}, blade: r, vein: r, under: r}
}

// An ellipse of 30 × 12 mm has π/4 · 30 · 12 mm²; a strap of rounded tip as drawn has the area of its outline, by the trapezium rule
// over its width: 40 mm long, 3 wide but 2.25 at the base, grown to 3 at an eighth, and a half ellipse over the last 12 mm.
func TestLeavesHaveTheirOutlinesArea(t *testing.T) {
	ellipse := make(ring, 90)
	for i := range ellipse {
		a := 2 * math.Pi * float64(i) / 90
		ellipse[i] = point{15 + 15*math.Cos(a), 6 * math.Sin(a)}
	}
	base := (2.25 + 3) / 2 * 5.0
	straight := 3 * (28 - 5.0)
	tip := math.Pi / 4 * 12 * 3
	for _, angle := range []float64{0, 0.3, 1.1, 2.47, 4.01, 5.9} {
		at := point{170, 170}.minus(heading(angle).times(110))
		for name, shape := range map[string]struct {
			b    *blade
			area float64
		}{
			"ellipse": {bladeOf(ellipse, veins{kind: unveined}), math.Pi / 4 * 30 * 12},
			"strap":   {strap(40, 3, 0.3, veins{kind: unveined}), base + straight + tip},
		} {
			l := laid(340, []*blade{shape.b}, []course{{from: at, long: 40, way: angle}})
			got := total(l.Leaf) / 36
			if math.Abs(got/shape.area-1) > 0.005 {
				t.Errorf("%s at %.2f rad has %.2f mm², want %.2f", name, angle, got, shape.area)
			}
		}
	}
}

func square(x0, y0, x1, y1 float64) *blade {
	return bladeOf(ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, veins{kind: unveined})
}

// The upper square, 10 × 10 mm, hides all of one plant and 4 × 10 mm of another's 10 × 12. Edges lie between texels on purpose.
func TestWhatIsCoveredCountsForNothing(t *testing.T) {
	flat := course{from: point{100.3, 200.7}, long: 20, z: 1}
	upper := flat
	upper.z = 5
	l := laid(400, []*blade{square(2, -3, 7, 3), square(6, -6, 16, 6), square(0, -5, 10, 5)}, []course{flat, flat, upper})
	areas := [4]float64{}
	for i, p := range l.Plant {
		areas[p] += float64(l.Leaf[i]) / 36
	}
	for plant, want := range map[int]float64{1: 0, 2: 80, 3: 100} {
		if math.Abs(areas[plant]-want) > 1.1 { // the texels that two plants share count for one: 10 mm · 1/6 mm is 1.7 at most
			t.Errorf("plant %d has %.2f mm², want %.0f", plant, areas[plant], want)
		}
	}
	if got := total(l.Leaf) / 36; math.Abs(got-180) > 0.18 {
		t.Errorf("leaves cover %.2f mm², want 180", got)
	}
}

// A texel that two leaves share has the mean of their colours by their shares of it: the edge x = 6 · 10 + 100.3 gives the upper leaf
// 0.3 of texel 160, which the other leaf fills below it.
func TestOwnColourIsTheAreasMean(t *testing.T) {
	flat := course{from: point{100.3, 200.7}, long: 20, z: 1}
	upper := flat
	upper.z = 5
	l := laid(400, []*blade{square(6, -5, 16, 5), square(0, -5, 10, 5)}, []course{flat, upper})
	row := 200 * 400
	low, high := l.Own[row+170], l.Own[row+150]
	for k := range 3 {
		want := 0.3*high[k] + 0.7*low[k]
		if got := l.Own[row+160][k]; math.Abs(float64(got-want)) > 1e-3 {
			t.Errorf("colour %d is %.4f, want %.4f", k, got, want)
		}
	}
	if p := l.Plant[row+160]; p != 1 {
		t.Errorf("the texel is plant %d's, want 1, which has 0.7 of it", p)
	}
}

// Half a texel of one leaf, half of that covered by another's, and a quarter of all by a label: 1/2 · 1/2 · 3/4 of the first is left
// and 1/2 · 3/4 of the second; half of the second is dead.
func TestLayersKeepWhatTheyLeaveUncovered(t *testing.T) {
	c := newCanvas(1, 6, lampOf(dice{seeded(1)}))
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

// A label of 5 × 20 mm laid over a leaf of 10 × 10 mm takes 5 × 10.
func TestThingsOverLeavesAreNoLeaf(t *testing.T) {
	c := newCanvas(200, 6, lampOf(dice{seeded(1)}))
	c.Bases = [][2]float64{{}}
	leaf := &sheet{plant: 1, blade: square(0, -5, 10, 5), spine: course{from: point{60, 100}, long: 10}.spine(4, 6), skin: plainSkin(lch{40, 30, 120})}
	label := &thing{outline: bar(point{90.4, 40}, point{90.4, 160}, 30), z: 3, own: closeup.RGB{0.9, 0.9, 0.9}, rough: 1}
	c.mark([]piece{leaf, label})
	brush := painter{canvas: c}
	for i, one := range []piece{leaf, label} {
		c.now = int32(i)
		c.mask.cut(200, one.outlines()...)
		one.paint(&brush)
	}
	if got := total(c.finish(&veil{}).Leaf) / 36; math.Abs(got-50) > 0.1 {
		t.Errorf("leaf covers %.2f mm², want 50", got)
	}
}

// Where a bent, folded sheet's spot is drawn, that spot is found again.
func TestFindIsTheConverseOfPlace(t *testing.T) {
	k := course{from: point{200, 150}, long: 50, way: 0.7, turn: 0.6, rise: 0.8, droop: 1.2, late: 2, fold: 0.3, roll: 0.2}
	sp := k.spine(12, 6)
	for s := -4.0; s < 56; s += 3.3 {
		for y := -9.0; y <= 9; y += 2.2 {
			got := sp.find(sp.place(point{s, y}), 0)
			if math.Abs(got.s-s) > 0.3 || math.Abs(got.y-y) > 0.1 {
				t.Errorf("(%.1f, %.1f) is found at (%.2f, %.2f)", s, y, got.s, got.y)
			}
		}
	}
}
