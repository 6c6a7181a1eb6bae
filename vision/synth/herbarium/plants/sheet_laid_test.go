package plants

import (
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
	"traygauge/vision/synth/herbarium/skin"
	"traygauge/vision/synth/herbarium/things"
)

// laid puts level blades on an empty drawing, one plant each.
func laid(side int, blades []*shape.Blade, courses []shape.Course) *closeup.Leaves {
	c := canvas.NewCanvas(side, 6, canvas.LampOf(num.Dice{Rand: rand.New(rand.NewPCG(1, 0x6c656166))}))
	var pieces []canvas.Piece
	for i, b := range blades {
		c.Bases = append(c.Bases, [2]float64{})
		pieces = append(pieces, &Sheet{plant: uint8(i + 1), blade: b, spine: courses[i].Spine(12, 6),
			skin: skin.Even(num.LCH{L: 40 + 20*float64(i), C: 30, H: 120})})
	}
	c.Mark(pieces)
	c.LayAll(pieces)
	return c.Finish(&canvas.Veil{})
}

// An ellipse of 30 × 12 mm has π/4 · 30 · 12 mm²; a strap of rounded tip as drawn has the area of its outline, by the trapezium rule
// over its width: 40 mm long, 3 wide but 2.25 at the base, grown to 3 at an eighth, and a half ellipse over the last 12 mm.
func TestLeavesHaveTheirOutlinesArea(t *testing.T) {
	ellipse := make(num.Ring, 90)
	for i := range ellipse {
		a := 2 * math.Pi * float64(i) / 90
		ellipse[i] = num.At(15+15*math.Cos(a), 6*math.Sin(a))
	}
	base := (2.25 + 3) / 2 * 5.0
	straight := 3 * (28 - 5.0)
	tip := math.Pi / 4 * 12 * 3
	for _, angle := range []float64{0, 0.3, 1.1, 2.47, 4.01, 5.9} {
		at := num.At(170, 170).Minus(num.Heading(angle).Times(110))
		for name, form := range map[string]struct {
			b    *shape.Blade
			area float64
		}{
			"ellipse": {shape.BladeOf(ellipse, shape.Veins{Kind: shape.Unveined}), math.Pi / 4 * 30 * 12},
			"strap":   {shape.Strap(40, 3, 0.3, shape.Veins{Kind: shape.Unveined}), base + straight + tip},
		} {
			l := laid(340, []*shape.Blade{form.b}, []shape.Course{{From: at, Long: 40, Way: angle}})
			got := sumOf(l.Leaf) / 36
			if math.Abs(got/form.area-1) > 0.005 {
				t.Errorf("%s at %.2f rad has %.2f mm², want %.2f", name, angle, got, form.area)
			}
		}
	}
}

func square(x0, y0, x1, y1 float64) *shape.Blade {
	return shape.BladeOf(num.Ring{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}, shape.Veins{Kind: shape.Unveined})
}

// The upper square, 10 × 10 mm, hides all of one plant and 4 × 10 mm of another's 10 × 12. Edges lie between texels on purpose.
func TestWhatIsCoveredCountsForNothing(t *testing.T) {
	flat := shape.Course{From: num.At(100.3, 200.7), Long: 20, Z: 1}
	upper := flat
	upper.Z = 5
	l := laid(400, []*shape.Blade{square(2, -3, 7, 3), square(6, -6, 16, 6), square(0, -5, 10, 5)}, []shape.Course{flat, flat, upper})
	areas := [4]float64{}
	for i, p := range l.Plant {
		areas[p] += float64(l.Leaf[i]) / 36
	}
	for plant, want := range map[int]float64{1: 0, 2: 80, 3: 100} {
		if math.Abs(areas[plant]-want) > 1.1 { // the texels that two plants share count for one: 10 mm · 1/6 mm is 1.7 at most
			t.Errorf("plant %d has %.2f mm², want %.0f", plant, areas[plant], want)
		}
	}
	if got := sumOf(l.Leaf) / 36; math.Abs(got-180) > 0.18 {
		t.Errorf("leaves cover %.2f mm², want 180", got)
	}
}

// A texel that two leaves share has the mean of their colours by their shares of it: the edge x = 6 · 10 + 100.3 gives the upper leaf
// 0.3 of texel 160, which the other leaf fills below it.
func TestOwnColourIsTheAreasMean(t *testing.T) {
	flat := shape.Course{From: num.At(100.3, 200.7), Long: 20, Z: 1}
	upper := flat
	upper.Z = 5
	l := laid(400, []*shape.Blade{square(6, -5, 16, 5), square(0, -5, 10, 5)}, []shape.Course{flat, upper})
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

// A label of 5 × 20 mm laid over a leaf of 10 × 10 mm takes 5 × 10.
func TestThingsOverLeavesAreNoLeaf(t *testing.T) {
	c := canvas.NewCanvas(200, 6, canvas.LampOf(num.Dice{Rand: rand.New(rand.NewPCG(1, 0x6c656166))}))
	c.Bases = [][2]float64{{}}
	leaf := &Sheet{plant: 1, blade: square(0, -5, 10, 5), spine: shape.Course{From: num.At(60, 100), Long: 10}.Spine(4, 6),
		skin: skin.Even(num.LCH{L: 40, C: 30, H: 120})}
	label := &things.Thing{Outline: num.Ring{{X: 75.4, Y: 40}, {X: 105.4, Y: 40}, {X: 105.4, Y: 160}, {X: 75.4, Y: 160}}.Facing(false),
		Z: 3, Own: closeup.RGB{0.9, 0.9, 0.9}, Rough: 1}
	c.Mark([]canvas.Piece{leaf, label})
	c.LayAll([]canvas.Piece{leaf, label})
	if got := sumOf(c.Finish(&canvas.Veil{}).Leaf) / 36; math.Abs(got-50) > 0.1 {
		t.Errorf("leaf covers %.2f mm², want 50", got)
	}
}

func sumOf(s []float32) (sum float64) {
	for _, v := range s {
		sum += float64(v)
	}
	return sum
}
