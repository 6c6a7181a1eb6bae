package herbarium

import (
	"hash/fnv"
	"math"
	"slices"
	"sync"
	"testing"
	"unsafe"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
)

// coarse draws what a seed gives at 1 texel a mm, which is quick and shows the same trays and plants as at full size.
func coarse(seed uint64) (*closeup.Leaves, *plan) {
	d := num.Dice{Rand: seeded(seed)}
	p := planOf(d, 171, 1)
	return p.draw(d), p
}

type drawing struct {
	*closeup.Leaves
	plan *plan
}

// hundred are a hundred drawings, made once for all tests, two at a time.
var hundred = sync.OnceValue(func() (out [100]drawing) {
	var both sync.WaitGroup
	for first := range 2 {
		both.Go(func() {
			for seed := first; seed < len(out); seed += 2 {
				out[seed].Leaves, out[seed].plan = coarse(uint64(seed))
			}
		})
	}
	both.Wait()
	return out
})

func TestLabelsAreInRange(t *testing.T) {
	for seed, l := range hundred() {
		checkLabels(t, seed, l.Leaves)
	}
	checkLabels(t, 0, Leaves(seeded(0)))
}

func checkLabels(t *testing.T, seed int, l *closeup.Leaves) {
	t.Helper()
	if len(l.Bases) > 250 {
		t.Errorf("seed %d: %d plants, want at most 250", seed, len(l.Bases))
	}
	if mm := l.Pitch / l.PerMM; mm < 15 || mm > 70 {
		t.Errorf("seed %d: cells %.1f mm apart, want 15 to 70", seed, mm)
	}
	for i, leaf := range l.Leaf {
		dead, plant := l.Dead[i], int(l.Plant[i])
		switch {
		case !(leaf >= 0 && leaf <= 1):
			t.Fatalf("seed %d, texel %d: leaf %g", seed, i, leaf)
		case !(dead >= 0 && dead <= leaf):
			t.Fatalf("seed %d, texel %d: dead %g of leaf %g", seed, i, dead, leaf)
		case plant > len(l.Bases) || (plant == 0) != (leaf == 0):
			t.Fatalf("seed %d, texel %d: plant %d of %d where leaf is %g", seed, i, plant, len(l.Bases), leaf)
		}
		for k := range 3 {
			if v := l.Light[i][k]; !(v >= 0 && v <= 4) {
				t.Fatalf("seed %d, texel %d: light %g", seed, i, v)
			}
			if v := l.Own[i][k]; leaf > 0 && !(v > 0 && v <= 1) {
				t.Fatalf("seed %d, texel %d: own colour %v", seed, i, l.Own[i])
			}
		}
	}
}

// Plants stand within 9 mm and a quarter of the pitch of a cell's middle; a neighbouring tray has a grid of its own.
func TestPlantsStandInTheirCells(t *testing.T) {
	for seed, l := range hundred() {
		if len(l.plan.ground.Trays) > 1 {
			continue
		}
		for _, b := range l.Bases {
			away := 0.0
			for axis := range 2 {
				cells := (b[axis] - l.Middle[axis]) / l.Pitch
				away = math.Hypot(away, (cells-math.Round(cells))*l.Pitch)
			}
			if mm := away / l.PerMM; mm > 9 || away > l.Pitch/4 {
				t.Errorf("seed %d: a plant stands %.1f mm from its cell's middle, %.2f of the pitch", seed, mm, away/l.Pitch)
			}
		}
	}
}

func TestSameSeedGivesTheSameDrawing(t *testing.T) {
	first := hundred()
	for seed := range uint64(5) {
		if again, _ := coarse(seed); digest(first[seed].Leaves) != digest(again) {
			t.Errorf("seed %d gives two drawings", seed)
		}
	}
	if digest(first[1].Leaves) == digest(first[2].Leaves) {
		t.Error("two seeds give one drawing")
	}
}

// digest is a hash over all that a drawing holds.
func digest(l *closeup.Leaves) uint64 {
	h := fnv.New64a()
	h.Write(bytesOf(l.Light))
	h.Write(bytesOf(l.Own))
	h.Write(bytesOf(l.Leaf))
	h.Write(bytesOf(l.Dead))
	h.Write(l.Plant)
	h.Write(bytesOf(l.Bases))
	h.Write(bytesOf([]float64{l.Middle[0], l.Middle[1], l.Pitch}))
	return h.Sum64()
}

func bytesOf[T any](s []T) []byte {
	if len(s) == 0 {
		return nil
	}
	return unsafe.Slice((*byte)(unsafe.Pointer(&s[0])), len(s)*int(unsafe.Sizeof(s[0])))
}

// Drops and uneven light are seen, but no label knows of them.
func TestDropsAndUnevenLightChangeNoLabel(t *testing.T) {
	draw := func(over *num.Dice) *closeup.Leaves {
		d := num.Dice{Rand: seeded(3)}
		p := planOf(d, 171, 1)
		p.drops, p.veil = canvas.Drops{}, canvas.Veil{}
		if over != nil {
			p.drops, p.veil = canvas.DropsOf(*over), canvas.VeilOf(*over, 171)
		}
		return p.draw(d)
	}
	dry, seen := draw(nil), 0
	for seed := range uint64(30) { // a fifth of them have drops
		wet := draw(&num.Dice{Rand: seeded(seed)})
		if !slices.Equal(dry.Light, wet.Light) {
			seen++
		}
		if !slices.Equal(dry.Own, wet.Own) || !slices.Equal(dry.Leaf, wet.Leaf) || !slices.Equal(dry.Dead, wet.Dead) || !slices.Equal(dry.Plant, wet.Plant) {
			t.Errorf("seed %d: labels differ", seed)
		}
	}
	if seen < 10 {
		t.Errorf("drops or shadows are seen in %d of 30 drawings, want 10 or more", seen)
	}
}

// spread is what of a drawing the spread over seeds is judged by.
type spread struct{ cover, yellow, near, dead, pitch, plants, hue []float64 }

// The bounds are coarse: they fail where a whole kind of drawing is lost.
func TestDrawingsDiffer(t *testing.T) {
	var s spread
	for _, l := range hundred() {
		s.add(l.Leaves)
	}
	s.log(t)
	between := func(name string, v []float64, lowest, highest float64) {
		if a, b := quantile(v, 0.1), quantile(v, 0.9); a > lowest || b < highest {
			t.Errorf("%s: a tenth below %.3g and above %.3g, want below %.3g and above %.3g", name, a, b, lowest, highest)
		}
	}
	between("cover", s.cover, 0.05, 0.7)
	between("pitch in mm", s.pitch, 30, 53)
	between("plants", s.plants, 13, 45)
	share := func(name string, v []float64, over, lowest, highest float64) {
		n := 0.0
		for _, x := range v {
			if x > over {
				n += 1 / float64(len(v))
			}
		}
		if n < lowest || n > highest {
			t.Errorf("%s: above %.3g in %.2f of the drawings, want %.2f to %.2f", name, over, n, lowest, highest)
		}
	}
	share("yellow", s.yellow, 0.02, 0.35, 0.9)
	share("yellow", s.yellow, 0.3, 0.1, 0.5)
	share("hue close to 105", s.near, 0.03, 0.3, 0.8)
	share("dead", s.dead, 0.005, 0.2, 0.7)
}

func (s *spread) add(l *closeup.Leaves) {
	var leaf, yellow, near, dead, hues float64
	for i, share := range l.Leaf {
		v := float64(share)
		leaf += v
		dead += float64(l.Dead[i])
		if share == 0 {
			continue
		}
		hue, chroma := hueOf(l.Own[i])
		hues += v * hue
		if hue < 105 && chroma > 15 {
			yellow += v
		}
		if math.Abs(hue-105) < 5 && chroma > 15 {
			near += v
		}
	}
	area := max(1, leaf)
	s.cover = append(s.cover, leaf/float64(len(l.Leaf)))
	s.yellow, s.near, s.dead = append(s.yellow, yellow/area), append(s.near, near/area), append(s.dead, dead/area)
	s.pitch, s.plants = append(s.pitch, l.Pitch/l.PerMM), append(s.plants, float64(len(l.Bases)))
	s.hue = append(s.hue, hues/area)
}

func (s *spread) log(t *testing.T) {
	t.Logf("%-18s %8s %8s %8s %8s %8s %8s %8s", "", "least", "10 %", "25 %", "median", "75 %", "90 %", "most")
	for _, row := range []struct {
		name string
		v    []float64
	}{
		{"cover", s.cover}, {"yellow share", s.yellow}, {"hue 100-110 share", s.near}, {"dead share", s.dead}, {"pitch, mm", s.pitch},
		{"plants", s.plants}, {"mean own hue, deg", s.hue},
	} {
		v := row.v
		t.Logf("%-18s %8.3f %8.3f %8.3f %8.3f %8.3f %8.3f %8.3f", row.name, quantile(v, 0), quantile(v, 0.1), quantile(v, 0.25),
			quantile(v, 0.5), quantile(v, 0.75), quantile(v, 0.9), quantile(v, 1))
	}
}

func quantile(v []float64, q float64) float64 {
	sorted := slices.Sorted(slices.Values(v))
	return sorted[int(q*float64(len(sorted)-1)+0.5)]
}

// hueOf is the hue in degrees, from 0 to 360, and the chroma of linear sRGB in CIELAB by CIE 15:2004, 8.2.1.
func hueOf(c closeup.RGB) (hue, chroma float64) {
	r, g, b := float64(c[0]), float64(c[1]), float64(c[2])
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f((0.4124*r+0.3576*g+0.1805*b)/0.95047), f(0.2126*r+0.7152*g+0.0722*b), f((0.0193*r+0.1192*g+0.9505*b)/1.08883)
	down, across := 500*(x-y), 200*(y-z)
	return math.Mod(math.Atan2(across, down)*180/math.Pi+360, 360), math.Hypot(down, across)
}
