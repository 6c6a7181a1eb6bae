package foliage

import (
	"math"
	"testing"

	"traygauge/vision/synth/closeup"
)

// paper is a coat of plant tissue that sends back all light, without gloss.
type paper struct{ dead float64 }

func (p paper) look(place) look { return look{own: grey(1), dead: p.dead, rough: 0.5} }
func (paper) isPlant() bool     { return true }

// bare is an even ground under a lamp and a sky, without any plant.
func bare(direct float64, to vec) (*scene, *ground) {
	s := &scene{mesh: &mesh{}, land: land{trays: []tray{{pitch: 40, middle: [2]float64{20, 20},
		low: [2]int{-endless, -endless}, high: [2]int{endless, endless}}}}}
	s.lamp = lamp{direct: direct, spread: 0.01}
	s.lamp.aim(to)
	s.lamp.setSky(0, 0, 1)
	return s, newGround(s.land)
}

// lay adds a level blade z mm up that begins at (x, y) mm, as a plant of its own.
func (s *scene) lay(o outline, x, y, z, turn, long float64, c coat, holes ...disc) {
	s.bases = append(s.bases, [2]float64{x, y})
	b := blade{outline: o, rib: grown(startFrame(vec{x, y, z}, heading(turn, 0), 0), bend{length: long}, 4, s.land.floor)}
	b.weave(s.mesh, organ{plant: int32(len(s.bases) - 1), coat: c, holes: holes}, s.land.floor)
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
	ellipse = outline{wide: 0.3, base: 0.5, tip: 0.5}
	oblong  = outline{wide: 0.04}
)

// The areas are those of geometry: an ellipse of length L and half-width 0.3 L has π (L/2) (0.3 L), a strap of half-width 0.04 L
// has L × 0.08 L, a hole of radius r takes π r², and where two straps cross at an angle the upper one hides w1 w2 / sin(angle).
func TestAreasAreThoseOfGeometry(t *testing.T) {
	t.Parallel()
	s, g := bare(0.5, heading(1, 1))
	var want []float64
	for k, turn := range []float64{0.1, 0.37, 1.234, 1.9, 1.01} {
		s.lay(ellipse, 20+32*float64(k), 30, 5, turn, 24+float64(k), paper{})
		want = append(want, math.Pi*0.15*(24+float64(k))*(24+float64(k)))
	}
	for k, turn := range []float64{0.2, 0.9, 1.7, 3.3} {
		s.lay(oblong, 25+35*float64(k), 85, 5, turn, 27.3, paper{})
		want = append(want, 0.08*27.3*27.3)
	}
	s.lay(ellipse, 20, 140, 5, 0.08, 30, paper{}, disc{15, 2, 3.3})
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
		s, g := bare(direct, heading(2, 0.9))
		s.lay(outline{wide: 0.5}, 40, 90, 3, 0, 70, paper{dead: 1})
		s.lay(ellipse, 60, 90, 1, 0, 30, paper{})
		l := s.show(g)
		i := 90*6*side + 75*6 + 60
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
