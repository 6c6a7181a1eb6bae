package roots

import (
	"math"
	"slices"
	"testing"

	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// flatGround is a relief without anything on it.
func flatGround() *solids.Relief {
	f := solids.NewRelief()
	for i := range f.Z {
		f.Z[i] = -10
	}
	return f
}

// straight is a path of one width in mm from one place to another.
func straight(ax, ay, bx, by, z, width float64, pieces int) Path {
	p := Path{stem: -1}
	long := math.Hypot(bx-ax, by-ay)
	for i := range pieces + 1 {
		t := float64(i) / float64(pieces)
		p.Points = append(p.Points, Point{X: float32(ax + t*(bx-ax)), Y: float32(ay + t*(by-ay)), Z: float32(z), Radius: float32(width / 2),
			Along: float32(t * long), Own: num.RGB{R: 0.8, G: 0.8, B: 0.7}})
	}
	return p
}

// laid returns the mm² and the mm of centre line that can be seen of each path.
func laid(f *solids.Relief, paths ...Path) (area, line []float64) {
	t := LayTubes(0.8, paths, f)
	area = make([]float64, len(paths))
	for _, b := range t.Blocks {
		if b == nil {
			continue
		}
		for _, n := range b.Segment {
			if n >= 0 {
				area[t.Segments[n].Root] += SubEvery * SubEvery
			}
		}
	}
	for i := range paths {
		texels := make([]float32, solids.Side*solids.Side)
		t.line(&paths[i], i, texels)
		sum := 0.0
		for _, mm := range texels {
			sum += float64(mm)
		}
		line = append(line, sum)
	}
	return area, line
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*want {
		t.Errorf("%s is %.4f, want %.4f within %.1f %%", what, got, want, 100*share)
	}
}

// A tube with round ends covers a rectangle and a circle of its width; with blunt ends, the rectangle alone.
func TestStraightRootHasTheAreaAndLengthOfItsGeometry(t *testing.T) {
	f := flatGround()
	for i, width := range []float64{0.06, 0.1, 0.17, 0.35, 0.8, 1.3, 2} {
		sin, cos := math.Sincos(0.31 + 0.83*float64(i))
		const long = 30.7
		p := straight(21.3-cos*long/2, 21.4-sin*long/2, 21.3+cos*long/2, 21.4+sin*long/2, 1, width, 70)
		area, line := laid(f, p)
		near(t, "the area of a root with round ends", area[0], width*long+math.Pi*width*width/4, 0.005)
		near(t, "its centre line", line[0], long, 0.005)
		p.cutBase, p.cutTip = true, true
		area, _ = laid(f, p)
		near(t, "the area of a root with blunt ends", area[0], width*long, 0.005)
	}
}

// A root 1 mm wide crosses at right angles under one 2 mm wide: 2 mm of its line and 2 mm² of its area are hidden.
func TestHiddenPartsCountForNothing(t *testing.T) {
	under, over := straight(10, 20.03, 30, 20.03, 1, 1, 50), straight(20.01, 8, 20.01, 32, 3, 2, 60)
	under.cutBase, under.cutTip = true, true
	area, line := laid(flatGround(), under, over)
	near(t, "the lower root's area", area[0], 20*1-2*1, 0.005)
	near(t, "the lower root's line", line[0], 20-2, 0.005)
	near(t, "the upper root's line", line[1], 24, 0.005)
}

// Medium 4 mm wide lies over a root.
func TestBuriedPartsCountForNothing(t *testing.T) {
	f := flatGround()
	for i := range f.Z {
		if x := solids.Middle(i % solids.Across); x > 15 && x < 19 {
			f.Z[i] = 5
		}
	}
	p := straight(10, 20.03, 30, 20.03, 1, 0.5, 50)
	p.cutBase, p.cutTip = true, true
	area, line := laid(f, p)
	near(t, "the area", area[0], 16*0.5, 0.005)
	near(t, "the line", line[0], 16, 0.005)
}

// A root that comes back over itself hides what lies below, as another root would: its loop's end, 10 mm long and 1 mm wide, crosses
// its beginning at right angles.
func TestRootThatCrossesItselfIsCountedOnce(t *testing.T) {
	p := straight(10, 20.03, 30, 20.03, 1, 1, 50)
	back := straight(20.01, 30, 20.01, 10, 3, 1, 50)
	bow := straight(30, 20.03, 20.01, 30, 1, 1, 50)
	along := float32(20)
	for _, q := range slices.Concat(bow.Points[1:], back.Points[1:]) {
		last := p.Points[len(p.Points)-1]
		along += num.Length(q.X-last.X, q.Y-last.Y)
		q.Along = along
		p.Points = append(p.Points, q)
	}
	for i := range p.Points[50:100] { // the bow climbs
		p.Points[50+i].Z = 1 + 2*float32(i)/50
	}
	_, line := laid(flatGround(), p)
	near(t, "the line", line[0], float64(along)-1, 0.005)
}

// A lateral that leaves a root 2 mm wide at right angles begins 1 mm from that root's centre line.
func TestLateralBeginsOutsideItsParent(t *testing.T) {
	lateral := straight(20, 20, 20, 30, 1, 0.3, 37)
	stem := Point{X: 20, Y: 20, Radius: 1}
	near(t, "the hidden beginning", float64(leaves(lateral.Points, stem, 1, 0)), 1, 0.001)
}
