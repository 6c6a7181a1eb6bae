package relief

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"traygauge/vision/synth/closeup"
)

func drawn(seed uint64) *closeup.Roots { return Roots(rand.New(rand.NewPCG(seed, 5))) }

func total(share []float32) float64 {
	sum := 0.0
	for _, v := range share {
		sum += float64(v)
	}
	return sum
}

func TestLabelsAreSharesAndLightIsFinite(t *testing.T) {
	for seed := range uint64(2) {
		check(t, seed, drawn(seed))
	}
}

// check fails where a label is no share of a texel, or light is missing or beyond the brightest gloss on the whitest root.
func check(t *testing.T, seed uint64, r *closeup.Roots) {
	t.Helper()
	for i := range r.Light {
		white, brown, plug, line := r.White[i], r.Brown[i], r.Plug[i], r.Line[i]
		if !(white >= 0 && brown >= 0 && white+brown <= 1+1e-5 && plug >= 0 && plug <= 1 && line >= 0 && line < 10) {
			t.Fatalf("seed %d, texel %d: white %v, brown %v, plug %v, line %v mm", seed, i, white, brown, plug, line)
		}
		for _, v := range r.Light[i] {
			if !(v >= 0 && v < 8) {
				t.Fatalf("seed %d, texel %d: light %v", seed, i, r.Light[i])
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
