package foliage

import (
	"math"
	"slices"
	"sync"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// figures are what a drawing shows, as shares of its area or of its leaf area.
type figures struct {
	cover, yellow, near, dead float64 // near: hue from 97 to 113 degrees
	hue, lightness            float64 // medians of green tissue
	pitch                     float64 // mm
	plants                    int
}

// tally adds up the figures of texels of equal weight.
type tally struct {
	leaf, all, yellow, near, dead float64
	hues, lights                  []float64
}

func (a *tally) add(own num.RGB, leaf, dead float64) {
	a.all++
	if leaf == 0 {
		return
	}
	a.leaf += leaf
	a.dead += dead
	c := own.Lab()
	if dead < 0.5*leaf && c.Chroma() > 15 {
		h := c.Hue()
		if h < 105 {
			a.yellow += leaf
		}
		if h > 97 && h < 113 {
			a.near += leaf
		}
		a.hues, a.lights = append(a.hues, h), append(a.lights, c.L)
	}
}

func (a *tally) figures() figures {
	per := max(a.leaf, 1e-9)
	return figures{cover: a.leaf / a.all, yellow: a.yellow / per, near: a.near / per, dead: a.dead / per,
		hue: quantile(a.hues, 0.5), lightness: quantile(a.lights, 0.5)}
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Sorted(slices.Values(v))
	return v[int(q*float64(len(v)-1)+0.5)]
}

// glance looks at the surfaces of a scene on a coarse grid of points, a quarter of a second quicker than a drawing.
func glance(s *scene) figures {
	const n = 160
	l := surface.NewLayer(n, n)
	for i, f := range s.mesh.Faces {
		var x, y [3]int
		var z [3]float64
		for k, c := range f.C {
			p := s.mesh.Corners[c].P
			x[k], y[k], z[k] = int(p.X*n*surface.Lattice/num.Across), int(p.Y*n*surface.Lattice/num.Across), p.Z
		}
		l.Fill(x, y, z, int32(i), nil)
	}
	var a tally
	for i, z := range l.Z {
		if z == surface.Nothing {
			a.add(num.RGB{}, 0, 0)
			continue
		}
		f := s.mesh.Faces[l.Id[i]]
		o := &s.mesh.Organs[f.Organ]
		if !o.Coat.IsPlant() {
			a.add(num.RGB{}, 0, 0)
			continue
		}
		w := s.mesh.Weights(f, (float64(i%n)+0.5)*num.Across/n, (float64(i/n)+0.5)*num.Across/n)
		c := [3]*surface.Corner{&s.mesh.Corners[f.C[0]], &s.mesh.Corners[f.C[1]], &s.mesh.Corners[f.C[2]]}
		v := o.Coat.Look(surface.Place{U: surface.Mix32(w, c[0].U, c[1].U, c[2].U), T: surface.Mix32(w, c[0].T, c[1].T, c[2].T),
			A: surface.Mix32(w, c[0].A, c[1].A, c[2].A),
			B: surface.Mix32(w, c[0].B, c[1].B, c[2].B), Under: c[0].N[2] < 0})
		a.add(v.Own, 1, v.Dead)
	}
	out := a.figures()
	out.pitch, out.plants = s.land.Trays[0].Pitch, len(s.bases)
	return out
}

func figuresOf(l *closeup.Leaves) figures {
	var a tally
	for i := range l.Leaf {
		o := l.Own[i]
		a.add(num.RGB{R: float64(o[0]), G: float64(o[1]), B: float64(o[2])}, float64(l.Leaf[i]), float64(l.Dead[i]))
	}
	out := a.figures()
	out.pitch, out.plants = l.Pitch/l.PerMM, len(l.Bases)
	return out
}

// TestSpread looks at 100 seeds. The bounds are coarse ones round what drawings for training have to cover.
func TestSpread(t *testing.T) {
	t.Parallel()
	all := make([]figures, 100)
	var wait sync.WaitGroup
	for first := range 4 {
		wait.Go(func() {
			for i := first; i < len(all); i += 4 {
				all[i] = glance(drawScene(num.Dice{Rand: seeded(uint64(i) + 1000)}))
			}
		})
	}
	wait.Wait()
	report := func(name string, of func(f figures) float64) func(q float64) float64 {
		var v []float64
		for _, f := range all {
			if x := of(f); !math.IsNaN(x) {
				v = append(v, x)
			}
		}
		t.Logf("%-22s least %.3f, 10 %% %.3f, 25 %% %.3f, half %.3f, 75 %% %.3f, 90 %% %.3f, most %.3f", name,
			quantile(v, 0), quantile(v, 0.1), quantile(v, 0.25), quantile(v, 0.5), quantile(v, 0.75), quantile(v, 0.9), quantile(v, 1))
		return func(q float64) float64 { return quantile(v, q) }
	}
	cover := report("cover", func(f figures) float64 { return f.cover })
	yellow := report("yellow share", func(f figures) float64 { return f.yellow })
	near := report("share near hue 105", func(f figures) float64 { return f.near })
	dead := report("dead share", func(f figures) float64 { return f.dead })
	pitch := report("pitch, mm", func(f figures) float64 { return f.pitch })
	hue := report("median hue, degrees", func(f figures) float64 { return f.hue })
	light := report("median lightness", func(f figures) float64 { return f.lightness })
	for _, c := range []struct {
		name           string
		got, low, high float64
	}{
		{"10 % of covers", cover(0.1), 0, 0.12},
		{"half of covers", cover(0.5), 0.15, 0.65},
		{"90 % of covers", cover(0.9), 0.75, 1},
		{"half of yellow shares", yellow(0.5), 0, 0.15},
		{"90 % of yellow shares", yellow(0.9), 0.25, 1},
		{"80 % of shares near 105", near(0.8), 0.1, 1},
		{"95 % of dead shares", dead(0.95), 0.03, 0.7},
		{"10 % of pitches", pitch(0.1), 15, 34},
		{"90 % of pitches", pitch(0.9), 48, 70},
		{"half of hues", hue(0.5), 114, 130},
		{"10 % of lightness", light(0.1), 22, 38},
		{"90 % of lightness", light(0.9), 48, 80},
	} {
		if c.got < c.low || c.got > c.high {
			t.Errorf("%s: %.3f, want %.2f to %.2f", c.name, c.got, c.low, c.high)
		}
	}
}

// A glance at a scene tells what its drawing shows.
func TestDrawingShowsTheScene(t *testing.T) {
	t.Parallel()
	got, want := figuresOf(drawn(1006)[0]), glance(drawScene(num.Dice{Rand: seeded(1006)}))
	if math.Abs(got.cover-want.cover) > 0.01 || math.Abs(got.yellow-want.yellow) > 0.03 || math.Abs(got.dead-want.dead) > 0.03 {
		t.Errorf("the drawing shows %+v, the scene has %+v", got, want)
	}
}
