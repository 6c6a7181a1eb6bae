package weave

import (
	"math"
	"reflect"
	"testing"
)

// alone is a drawing of a dark plug without a root or anything else.
func alone() *scene {
	s := newScene(dice{seeded(1)})
	for i := range s.depth {
		s.depth[i] = 5
	}
	s.soil = rgb{0.02, 0.02, 0.02}
	s.look = look{white: rgb{0.8, 0.8, 0.7}, brown: rgb{0.2, 0.1, 0.05}}
	s.ground = &canvas{n: side, scale: perMM, light: make([]rgb, side*side)}
	s.fine = s.ground.refined()
	return s
}

// straight is a root with straight ends, with the given number of pieces.
func straight(x, y, way, long, wide float64, pieces int, own rgb) *root {
	r := &root{ribbon: ribbon{cutA: true, cutB: true}}
	sin, cos := math.Sincos(way)
	for i := range pieces + 1 {
		t := (float64(i)/float64(pieces) - 0.5) * long
		r.knots = append(r.knots, knot{x: x + t*cos, y: y + t*sin, r: wide / 2, own: own})
	}
	return r
}

func (s *scene) put(r ...*root) (white, brown, line float64) {
	for _, r := range r {
		s.roots = append(s.roots, r)
		s.layRoot(r)
	}
	s.sumUp()
	for i := range s.out.White {
		white += float64(s.out.White[i]) / (perMM * perMM)
		brown += float64(s.out.Brown[i]) / (perMM * perMM)
		line += float64(s.out.Line[i])
	}
	return white, brown, line
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want)+1e-9 {
		t.Errorf("%s is %.4f, want %.4f within %.1f %%", what, got, want, 100*share)
	}
}

// A straight root covers its length times its width.
func TestStraightRootHasTheAreaAndLengthOfItsGeometry(t *testing.T) {
	for i, wide := range []float64{0.05, 0.1, 0.2, 0.5, 1.3, 2.5} {
		white, _, line := alone().put(straight(21.3, 21.4, 0.31+0.83*float64(i), 30.7, wide, 95, rgb{0.8, 0.8, 0.7}))
		near(t, "the area", white, 30.7*wide, 0.01)
		near(t, "the line", line, 30.7, 0.005)
		_, brown, _ := alone().put(straight(21.3, 21.4, 0.31+0.83*float64(i), 30.7, wide, 95, rgb{0.2, 0.1, 0.05}))
		near(t, "the area in brown", brown, 30.7*wide, 0.01)
	}
}

// A circle's ring of radius 10 mm: its line is 2π·10 mm, its area that times its width.
func TestBentRootHasTheAreaAndLengthOfItsGeometry(t *testing.T) {
	r := &root{ribbon: ribbon{cutA: true, cutB: true}}
	for i := range 401 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 400)
		r.knots = append(r.knots, knot{x: 21 + 10*cos, y: 21 + 10*sin, r: 0.3, own: rgb{0.8, 0.8, 0.7}})
	}
	white, _, line := alone().put(r)
	near(t, "the line", line, 20*math.Pi, 0.005)
	near(t, "the area", white, 20*math.Pi*0.6, 0.01)
}

// A root 2 mm wide hides 2 mm of the root 1 mm wide that it crosses at right angles.
func TestHiddenPartsCountForNothing(t *testing.T) {
	pale := rgb{0.8, 0.8, 0.7}
	white, brown, line := alone().put(straight(20, 20, 0, 20, 1, 60, rgb{0.2, 0.1, 0.05}), straight(20, 20, math.Pi/2, 20, 2, 60, pale))
	near(t, "the lower root's area", brown, 20-2, 0.01)
	near(t, "the upper root's area", white, 40, 0.01)
	near(t, "the lines", line, 20+20-2, 0.005)
}

func TestDarkEmptyPlugHasNoRoot(t *testing.T) {
	if white, brown, line := alone().put(); white+brown+line != 0 {
		t.Errorf("white %g, brown %g, line %g", white, brown, line)
	}
}

func TestLabelsCanBeAndTheSameSeedGivesTheSameDrawing(t *testing.T) {
	for seed := range 8 {
		d := Roots(seeded(seed))
		for i := range d.Light {
			white, brown, line, plug, light := d.White[i], d.Brown[i], d.Line[i], d.Plug[i], d.Light[i]
			good := white >= 0 && brown >= 0 && white+brown <= 1.0001 && plug >= 0 && plug <= 1 && line >= 0 && line < 3
			if !good || !(light[0] >= 0 && light[1] >= 0 && light[2] >= 0 && light[0]+light[1]+light[2] <= 12) {
				t.Fatalf("seed %d, texel %d: white %g, brown %g, line %g, plug %g, light %v", seed, i, white, brown, line, plug, light)
			}
		}
		if seed < 2 && !reflect.DeepEqual(d, Roots(seeded(seed))) {
			t.Errorf("seed %d draws two things", seed)
		}
	}
}
