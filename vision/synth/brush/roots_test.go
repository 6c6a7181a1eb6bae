package brush

import (
	"flag"
	"fmt"
	"math"
	"sort"
	"testing"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

var seeds = flag.Int("seeds", 16, "how many drawings to look over; 200 for figures worth telling")

// summary is what one drawing holds.
type summary struct {
	white, brown, line float64 // mm², mm², mm
	plug               float64 // mm²
	perlites           int
	width              float64 // of the plug in the middle, mm
	ordinary           bool
}

func summarise(s *scene) summary {
	out := summary{perlites: s.Perlites, ordinary: s.Ordinary}
	for i, v := range s.Plug {
		out.plug += float64(v) / (canvas.PerMM * canvas.PerMM)
		out.white += float64(s.White[i]) / (canvas.PerMM * canvas.PerMM)
		out.brown += float64(s.Brown[i]) / (canvas.PerMM * canvas.PerMM)
		out.line += float64(s.Line[i])
	}
	if len(s.Layout.Plugs) > 0 {
		out.width = 2 * s.Layout.Plugs[0].Half / canvas.PerMM
	}
	return out
}

// check reports the first label or light that cannot be.
func check(p *canvas.Painting) error {
	for i := range p.Light {
		white, brown, line, plug := p.White[i], p.Brown[i], p.Line[i], p.Plug[i]
		switch {
		case !(white >= 0 && brown >= 0 && white+brown <= 1+1e-5):
			return fmt.Errorf("texel %d: white %g, brown %g", i, white, brown)
		case !(plug >= 0 && plug <= 1+1e-5):
			return fmt.Errorf("texel %d: plug %g", i, plug)
		case !(line >= 0 && line < 40.0/canvas.PerMM):
			return fmt.Errorf("texel %d: line %g mm", i, line)
		}
		for _, v := range p.Light[i] {
			if !(v >= 0 && v <= 4.2) {
				return fmt.Errorf("texel %d: light %v", i, p.Light[i])
			}
		}
	}
	return nil
}

// The drawings have to range from bare medium to full mats, from white to brown, over all plug sizes (vision/train's own needs).
func TestDrawingsVaryAndTheirLabelsCanBe(t *testing.T) {
	all := make([]summary, *seeds)
	t.Run("drawings", func(t *testing.T) {
		for part := range 2 {
			t.Run(fmt.Sprint(part), func(t *testing.T) {
				t.Parallel()
				for k := part; k < len(all); k += 2 {
					s := paint(num.Dice{Rand: seeded(k)})
					if err := check(s.Painting); err != nil {
						t.Errorf("seed %d: %v", k, err)
					}
					all[k] = summarise(s)
				}
			})
		}
	})
	spread := func(name string, of func(s summary) float64) (share func(from, to float64) float64) {
		v := make([]float64, len(all))
		for i, s := range all {
			v[i] = of(s)
		}
		sort.Float64s(v)
		at := func(p float64) float64 { return v[int(p*float64(len(v)-1))] }
		t.Logf("%-22s least %.4g, 5%% %.4g, 25%% %.4g, half %.4g, 75%% %.4g, 95%% %.4g, most %.4g",
			name, v[0], at(0.05), at(0.25), at(0.5), at(0.75), at(0.95), v[len(v)-1])
		return func(from, to float64) float64 {
			n := 0
			for _, x := range v {
				if x >= from && x < to {
					n++
				}
			}
			return float64(n) / float64(len(v))
		}
	}
	cover := spread("root share of plug", func(s summary) float64 { return (s.white + s.brown) / math.Max(1, s.plug) })
	spread("root area, mm²", func(s summary) float64 { return s.white + s.brown })
	length := spread("visible length, mm", func(s summary) float64 { return s.line })
	brown := spread("brown share of roots", func(s summary) float64 { return s.brown / math.Max(0.01, s.white+s.brown) })
	perlite := spread("perlite grains", func(s summary) float64 { return float64(s.perlites) })
	width := spread("plug width, mm", func(s summary) float64 { return s.width })
	ordinary := spread("ordinary", func(s summary) float64 {
		if s.ordinary {
			return 1
		}
		return 0
	})
	for _, c := range []struct {
		what      string
		share     float64
		low, high float64
	}{
		{"nearly bare", cover(0, 0.01), 0.04, 0.5},
		{"between", cover(0.01, 0.4), 0.2, 0.85},
		{"densely rooted", cover(0.4, 2), 0.05, 0.5},
		{"over 1 m", length(1000, 1e9), 0.1, 0.7},
		{"all white", brown(0, 0.001), 0.25, 0.85},
		{"mostly brown", brown(0.5, 2), 0.02, 0.4},
		{"without perlite", perlite(0, 1), 0.1, 0.7},
		{"much perlite", perlite(15, 1e9), 0.02, 0.6},
		{"26 to 40 mm", width(26, 40), 0.3, 0.95},
		{"smaller", width(1, 26), 0.02, 0.5},
		{"ordinary", ordinary(1, 2), 0.25, 0.75},
	} {
		slack := func(p float64) float64 { return 3 * math.Sqrt(p*(1-p)/float64(len(all))) } // what chance does to a share of so few
		if c.share < c.low-slack(c.low) || c.share > c.high+slack(c.high) {
			t.Errorf("%s: %.2f of the drawings, want %.2f to %.2f", c.what, c.share, c.low, c.high)
		}
	}
}
