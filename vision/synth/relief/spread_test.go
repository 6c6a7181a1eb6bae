package relief

import (
	"flag"
	"math/rand/v2"
	"slices"
	"testing"

	"traygauge/vision/synth/relief/medium"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
	"traygauge/vision/synth/relief/solids"
)

var whole = flag.Bool("whole", false, "draw 200 drawings and print how widely they spread")

// spread is one quantity over many drawings.
type spread []float64

// quantile is the value below which a share of the drawings lie.
func (s spread) quantile(share float64) float64 {
	sorted := slices.Sorted(slices.Values(s))
	return sorted[int(share*float64(len(sorted)-1)+0.5)]
}

// within counts the drawings with a value in a range, as a share of all.
func (s spread) within(low, high float64) float64 {
	n := 0
	for _, v := range s {
		if v >= low && v <= high {
			n++
		}
	}
	return float64(n) / float64(len(s))
}

func (s spread) print(t *testing.T, what string) {
	t.Helper()
	t.Logf("%-32s %9.3f %9.3f %9.3f %9.3f %9.3f", what, s.quantile(0), s.quantile(0.1), s.quantile(0.5), s.quantile(0.9), s.quantile(1))
}

// atLeast fails unless a share of the drawings has a value in the range.
func (s spread) atLeast(t *testing.T, share float64, what string, low, high float64) {
	t.Helper()
	if got := s.within(low, high); got < share {
		t.Errorf("%s is from %v to %v in %.0f %% of the drawings, want at least %.0f %%", what, low, high, 100*got, 100*share)
	}
}

// What is grown and laid, before any of it hides the rest.
func TestDrawingsSpreadWidely(t *testing.T) {
	var length, cover, brown, perlite, plug, thickness spread
	for seed := range uint64(200) {
		s := newSubject(num.Dice{Rand: rand.New(rand.NewPCG(seed, 5))})
		h := medium.NewHeap(s.Dice, s.Relief, &s.palette, s.layout.Plug, s.swell)
		g := roots.NewGrower(s.Dice, s.Tables, s.layout.Plugs, roots.NewStand(s.Dice, h.Area))
		g.Grow()
		mm, mm2 := grown(g.Paths)
		length = append(length, mm/1000)
		cover = append(cover, mm2/max(1, float64(h.Area)))
		if mm > 0 {
			brown = append(brown, brownShare(g.Paths))
			thickness = append(thickness, mm2/mm)
		}
		perlite = append(perlite, float64(s.perlite))
		plug = append(plug, float64(2*s.layout.Cell.Half))
	}
	t.Logf("%-32s %9s %9s %9s %9s %9s", "", "least", "10 %", "median", "90 %", "most")
	length.print(t, "roots laid, m")
	cover.print(t, "roots laid, mm² a mm² of plug")
	brown.print(t, "brown share of their length")
	thickness.print(t, "mean width, mm")
	perlite.print(t, "grains of perlite")
	plug.print(t, "width of the cell, mm")
	length.atLeast(t, 0.04, "length in m", 0, 0)
	length.atLeast(t, 0.15, "length in m", 0.3, 1.5)
	length.atLeast(t, 0.15, "length in m", 1.5, 20)
	cover.atLeast(t, 0.05, "cover", 1.2, 9)
	cover.atLeast(t, 0.15, "cover", 0.01, 0.2)
	brown.atLeast(t, 0.45, "the brown share", 0, 0)
	brown.atLeast(t, 0.08, "the brown share", 0.5, 1)
	brown.atLeast(t, 0.1, "the brown share", 0.02, 0.5)
	thickness.atLeast(t, 0.03, "mean width in mm", 0.05, 0.12)
	thickness.atLeast(t, 0.03, "mean width in mm", 0.6, 2.3)
	perlite.atLeast(t, 0.2, "perlite", 0, 0)
	perlite.atLeast(t, 0.1, "perlite", 20, 50)
	plug.atLeast(t, 0.4, "width in mm", 26, 41)
	plug.atLeast(t, 0.1, "width in mm", 8, 25)
	plug.atLeast(t, 0.01, "width in mm", 60, 130)
}

// grown is the length and the area of all paths, those parts counted twice that lie over each other.
func grown(paths []roots.Path) (mm, mm2 float64) {
	for _, p := range paths {
		for i := 1; i < len(p.Points); i++ {
			part := float64(p.Points[i].Along - p.Points[i-1].Along)
			mm += part
			mm2 += part * 2 * float64(p.Points[i].Radius)
		}
	}
	return mm, mm2
}

// brownShare is the share of the paths' length whose own red is more than 1.3 times its green.
func brownShare(paths []roots.Path) float64 {
	brown, all := 0.0, 0.0
	for _, p := range paths {
		for i := 1; i < len(p.Points); i++ {
			part := float64(p.Points[i].Along - p.Points[i-1].Along)
			all += part
			if own := p.Points[i].Own; own.R > 1.3*own.G {
				brown += part
			}
		}
	}
	return brown / all
}

// TestWhole prints what can be seen in whole drawings.
func TestWhole(t *testing.T) {
	if !*whole {
		t.Skip("takes half a minute; -whole runs it")
	}
	var roots, brown, line, plug spread
	const mm2 = solids.Texel * solids.Texel
	for seed := range uint64(200) {
		r := drawn(seed)
		check(t, seed, r)
		area := total(r.White) + total(r.Brown)
		roots = append(roots, area*mm2)
		line = append(line, total(r.Line)/1000)
		plug = append(plug, total(r.Plug)*mm2)
		if area > 0 {
			brown = append(brown, total(r.Brown)/area)
		}
	}
	t.Logf("%-32s %9s %9s %9s %9s %9s", "", "least", "10 %", "median", "90 %", "most")
	roots.print(t, "roots seen, mm²")
	brown.print(t, "brown share of their area")
	line.print(t, "centre line seen, m")
	plug.print(t, "plug, mm²")
}
