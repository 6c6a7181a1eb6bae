package relief

import (
	"math/rand/v2"
	"slices"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
	"traygauge/vision/synth/relief/solids"
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
		s := newSubject(num.Dice{Rand: rand.New(rand.NewPCG(seed, 9))})
		s.layGround()
		s.plantRoots()
		s.heap.Cover(s.Dice)
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
		if s.palette[s.Solid[roots.ReliefQuarter(texel%solids.Side, texel/solids.Side, q)]].Owner != solids.OfCover {
			return false
		}
	}
	return true
}
