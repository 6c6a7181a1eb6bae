package foliage

import (
	"math"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage/ground"
	"traygauge/vision/synth/foliage/lighting"
	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/surface"
	"traygauge/vision/synth/foliage/tray"
)

// paper is a coat of plant tissue that sends back all light, without gloss.
type paper struct{ dead float64 }

func (p paper) Look(surface.Place) surface.Look {
	return surface.Look{Own: num.Grey(1), Dead: p.dead, Rough: 0.5}
}
func (paper) IsPlant() bool { return true }

// bare is an even ground under a lamp and a sky, without any plant.
func bare(direct float64, to num.Vec) (*scene, *ground.Ground) {
	s := &scene{mesh: &surface.Mesh{}, land: tray.Land{Trays: []tray.Tray{{Pitch: 40, Middle: [2]float64{20, 20},
		Low: [2]int{-tray.Endless, -tray.Endless}, High: [2]int{tray.Endless, tray.Endless}}}}}
	s.lamp = lighting.Lamp{Direct: direct, Spread: 0.01}
	s.lamp.Aim(to)
	s.lamp.SetSky(0, 0, 1)
	return s, ground.NewGround(s.land)
}

// lay adds a level blade z mm up that begins at (x, y) mm, as a plant of its own.
func (s *scene) lay(o shape.Outline, x, y, z, turn, long float64, c surface.Coat, holes ...surface.Disc) {
	s.bases = append(s.bases, [2]float64{x, y})
	b := shape.Blade{Outline: o, Rib: shape.Grown(shape.StartFrame(num.At(x, y, z), num.Heading(turn, 0), 0), shape.Bend{Length: long}, 4, s.land.Floor)}
	b.Weave(s.mesh, surface.Organ{Plant: int32(len(s.bases) - 1), Coat: c, Holes: holes}, s.land.Floor)
}

// areas are the leaf areas by plant, mm², where one plant alone is on each texel of some share.
func areas(l *closeup.Leaves) []float64 {
	sums := make([]float64, len(l.Bases)+1)
	for i, n := range l.Plant {
		sums[n] += float64(l.Leaf[i]) / (l.PerMM * l.PerMM)
	}
	return sums[1:]
}

var (
	ellipse = shape.Outline{Wide: 0.3, Base: 0.5, Tip: 0.5}
	oblong  = shape.Outline{Wide: 0.04}
)

// The areas are those of geometry: an ellipse of length L and half-width 0.3 L has π (L/2) (0.3 L), a strap of half-width 0.04 L
// has L × 0.08 L, a hole of radius r takes π r², and where two straps cross at an angle the upper one hides w1 w2 / sin(angle).
func TestAreasAreThoseOfGeometry(t *testing.T) {
	t.Parallel()
	s, g := bare(0.5, num.Heading(1, 1))
	var want []float64
	for k, turn := range []float64{0.1, 0.37, 1.234, 1.9, 1.01} {
		s.lay(ellipse, 20+32*float64(k), 30, 5, turn, 24+float64(k), paper{})
		want = append(want, math.Pi*0.15*(24+float64(k))*(24+float64(k)))
	}
	for k, turn := range []float64{0.2, 0.9, 1.7, 3.3} {
		s.lay(oblong, 25+35*float64(k), 85, 5, turn, 27.3, paper{})
		want = append(want, 0.08*27.3*27.3)
	}
	s.lay(ellipse, 20, 140, 5, 0.08, 30, paper{}, surface.Disc{A: 15, B: 2, R: 3.3})
	want = append(want, math.Pi*(0.15*30*30-3.3*3.3))
	s.lay(oblong, 70, 136, 5, 0.21, 40, paper{}) // below
	s.lay(oblong, 80, 120, 9, 1.05, 44, paper{}) // across it
	want = append(want, 0.08*40*40-3.2*3.52/math.Sin(1.05-0.21), 0.08*44*44)
	for k, got := range areas(s.show(g)) {
		if math.Abs(got/want[k]-1) > 0.005 {
			t.Errorf("plant %d has %.2f mm², want %.2f", k, got, want[k])
		}
	}
}

// Level open ground or paper gets 1 by the lamp's definition, whatever part is the sky's; what lies under a broad leaf gets no sun.
// All of a dead leaf is dead, and a leaf that another one covers counts for nothing.
func TestLevelPaperSendsBackOne(t *testing.T) {
	t.Parallel()
	for _, direct := range []float64{0, 0.8} {
		s, g := bare(direct, num.Heading(2, 0.9))
		s.lay(shape.Outline{Wide: 0.5}, 40, 90, 3, 0, 70, paper{dead: 1})
		s.lay(ellipse, 60, 90, 1, 0, 30, paper{})
		l := s.show(g)
		i := 90*6*num.Side + 75*6 + 60
		if v := l.Light[i][1]; math.Abs(float64(v)-1) > 0.02 {
			t.Errorf("with %.1f of the light from the lamp, level paper sends back %.3f", direct, v)
		}
		a := areas(l)
		if a[1] != 0 || math.Abs(a[0]/4900-1) > 0.005 {
			t.Errorf("areas are %.1f and %.1f mm², want 4900 and 0", a[0], a[1])
		}
		for i := range l.Leaf {
			if l.Dead[i] != l.Leaf[i] {
				t.Fatalf("texel %d: %v dead of %v", i, l.Dead[i], l.Leaf[i])
			}
		}
	}
}
