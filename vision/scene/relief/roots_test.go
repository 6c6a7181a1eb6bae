package relief

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"traygauge/vision/scene/closeup"
)

func drawn(seed uint64) *closeup.Roots { return Roots(rand.New(rand.NewPCG(seed, 5))) }

func total(share []float32) float64 {
	sum := 0.0
	for _, v := range share {
		sum += float64(v)
	}
	return sum
}

// flatGround is a relief without anything on it.
func flatGround() *relief {
	f := newRelief()
	for i := range f.z {
		f.z[i] = -10
	}
	return f
}

// straight is a path of one width in mm from one place to another.
func straight(ax, ay, bx, by, z, width float64, pieces int) path {
	p := path{stem: -1}
	long := math.Hypot(bx-ax, by-ay)
	for i := range pieces + 1 {
		t := float64(i) / float64(pieces)
		p.points = append(p.points, point{x: float32(ax + t*(bx-ax)), y: float32(ay + t*(by-ay)), z: float32(z), radius: float32(width / 2),
			along: float32(t * long), own: rgb{0.8, 0.8, 0.7}})
	}
	return p
}

// laid returns the mm² and the mm of centre line that can be seen of each path.
func laid(f *relief, paths ...path) (area, line []float64) {
	t := newTubes(0.8, 0)
	for i := range paths {
		t.lay(&paths[i], i, f)
	}
	area = make([]float64, len(paths))
	for _, b := range t.blocks {
		if b == nil {
			continue
		}
		for _, n := range b.segment {
			if n >= 0 {
				area[t.segments[n].root] += subEvery * subEvery
			}
		}
	}
	for i := range paths {
		texels := make([]float32, side*side)
		t.lines(&paths[i], i, texels)
		line = append(line, total(texels))
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
	for i := range f.z {
		if x := middle(i % across); x > 15 && x < 19 {
			f.z[i] = 5
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
	for _, q := range slices.Concat(bow.points[1:], back.points[1:]) {
		last := p.points[len(p.points)-1]
		along += length(q.x-last.x, q.y-last.y)
		q.along = along
		p.points = append(p.points, q)
	}
	for i := range p.points[50:100] { // the bow climbs
		p.points[50+i].z = 1 + 2*float32(i)/50
	}
	_, line := laid(flatGround(), p)
	near(t, "the line", line[0], float64(along)-1, 0.005)
}

// A lateral that leaves a root 2 mm wide at right angles begins 1 mm from that root's centre line.
func TestLateralBeginsOutsideItsParent(t *testing.T) {
	lateral := straight(20, 20, 20, 30, 1, 0.3, 37)
	stem := point{x: 20, y: 20, radius: 1}
	near(t, "the hidden beginning", float64(leaves(lateral.points, stem, 1, 0)), 1, 0.001)
}

func TestLabelsAreSharesAndLightIsFinite(t *testing.T) {
	for seed := range uint64(2) {
		r := drawn(seed)
		for i := range r.Light {
			white, brown, plug, line := r.White[i], r.Brown[i], r.Plug[i], r.Line[i]
			if white < 0 || brown < 0 || white+brown > 1+1e-5 || plug < 0 || plug > 1 || line < 0 || line > 10 {
				t.Fatalf("seed %d, texel %d: white %v, brown %v, plug %v, line %v mm", seed, i, white, brown, plug, line)
			}
			for _, v := range r.Light[i] {
				if !(v >= 0 && v < 8) {
					t.Fatalf("seed %d, texel %d: light %v", seed, i, r.Light[i])
				}
			}
		}
	}
}

func TestSameSeedSameDrawing(t *testing.T) {
	a, b := drawn(7), drawn(7)
	if !slices.Equal(a.Light, b.Light) || !slices.Equal(a.White, b.White) || !slices.Equal(a.Brown, b.Brown) ||
		!slices.Equal(a.Line, b.Line) || !slices.Equal(a.Plug, b.Plug) {
		t.Error("two drawings of one seed differ")
	}
}

// The flat card's white paper in the plug's plane is 1 under any lamp (the definition in package closeup).
func TestPaperIsOneUnderAnyLamp(t *testing.T) {
	d := dice{rand.New(rand.NewPCG(3, 4))}
	for range 50 {
		l := newLamp(d)
		light := l.matt(rgb{1, 1, 1}, slope{0, 0, 1}, 0.3, 1, 0)
		near(t, "paper's red", float64(light.r), 1, 1e-4)
		near(t, "paper's green", float64(light.g), 1, 1e-4)
		near(t, "paper's blue", float64(light.b), 1, 1e-4)
	}
}

// A wall 1 mm high under a lamp at 45° casts a shadow 1 mm wide, on the side away from the lamp.
func TestWallCastsAShadowAsLongAsTheLampIsLow(t *testing.T) {
	for _, toward := range [][2]float32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {0.6, 0.8}, {-0.8, 0.6}} {
		z := make([]float32, across*across)
		for i := range z {
			x, y := middle(i%across)-width/2, middle(i/across)-width/2
			if abs(dot(x, y, toward[0], toward[1])) < 0.3 {
				z[i] = 1
			}
		}
		h := march(z, across, toward[0]*math.Sqrt2/2, toward[1]*math.Sqrt2/2, step)
		shade := 0
		for k := -100; k <= 100; k++ { // across the wall, through the middle
			x, y := width/2+toward[0]*float32(k)*step, width/2+toward[1]*float32(k)*step
			i := int(y/step)*across + int(x/step)
			if z[i] == 0 && h[i] > 0 {
				shade++
			}
			if k > 10 && z[i] == 0 && h[i] > 0 {
				t.Errorf("toward %v: shadow on the lamp's side, %d samples from the middle", toward, k)
			}
		}
		near(t, "the shadow's width", float64(shade)*step, 1, 0.06)
	}
}

// What lies over the plug from outside hides every root below it, and is no plug.
func TestNothingIsLabelledUnderACover(t *testing.T) {
	for seed := range uint64(2) {
		s := newSubject(dice{rand.New(rand.NewPCG(seed, 9))})
		s.layGround()
		s.plantRoots()
		s.heap.cover(s.dice)
		r := s.draw()
		covered := 0
		for i := range r.Plug {
			if !s.covers(i) {
				continue
			}
			covered++
			if r.White[i] > 0 || r.Brown[i] > 0 || r.Line[i] > 0 || r.Plug[i] > 0 {
				t.Fatalf("seed %d: texel %d under the cover is labelled: white %v, brown %v, line %v, plug %v", seed, i, r.White[i], r.Brown[i],
					r.Line[i], r.Plug[i])
			}
		}
		if covered < 1000 {
			t.Errorf("seed %d: the cover hides only %d texels", seed, covered)
		}
	}
}

// covers reports whether all of a texel lies under something from outside.
func (s *subject) covers(texel int) bool {
	for q := range 4 {
		if s.palette[s.solid[reliefQuarter(texel%side, texel/side, q)]].owner != ofCover {
			return false
		}
	}
	return true
}

// Drops of water hide the root below them; the plug stays plug.
func TestDropsHideRoots(t *testing.T) {
	f := flatGround()
	p := palette{{}, {owner: ofPlug}}
	for i := range f.z {
		f.solid[i] = 1
	}
	h := &heap{dice: dice{rand.New(rand.NewPCG(1, 1))}, relief: f, palette: &p, inside: []int32{64*coarseSide + 64}, swell: make(coarse, coarseSide*coarseSide),
		depth: make(coarse, coarseSide*coarseSide)}
	h.drops(h.dice, 20, func(x, y float32) float32 { return 1.5 })
	root := straight(10, float64(width)/2, 30, float64(width)/2, 1, 0.3, 60)
	_, line := laid(f, root)
	if line[0] > 20-0.5 || line[0] < 20-3.4 {
		t.Errorf("%.2f mm of a line of 20 mm are seen past a heap of drops 0.2 to 3 mm wide, all within 0.4 mm of its middle", line[0])
	}
	for _, solid := range f.solid {
		if p[solid].owner != ofPlug {
			t.Fatal("a drop on a plug is no longer plug")
		}
	}
}

// A plug 26 mm wide has the area of its circle (530.9 mm²), whatever lies on it; a ragged rim and overhanging crumbs would add to it.
func TestPlugHasTheAreaOfItsOutline(t *testing.T) {
	f := newRelief()
	l := layout{plugs: []plug{{outline: outline{x: 21, y: 22, half: 13, corner: 1, alongX: 1}}}}
	l.plug = newCoarse(func(x, y float32) float32 { _, in := l.nearest(f.tables, x, y); return in })
	flat := make(coarse, coarseSide*coarseSide)
	b := bench{layout: &l, board: &board{solid: 1, low: -3}, floor: 2, undulate: flat}
	b.ground(f, 0)
	samples := 0
	for _, solid := range f.solid {
		if solid == 2 {
			samples++
		}
	}
	near(t, "the plug's area", float64(samples)*step*step, math.Pi*13*13, 0.002)
}
