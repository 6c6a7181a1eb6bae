// Package weave draws plug bottoms for training with as little prejudice as can be: media, grains, fibres, roots and light are all
// drawn by lot over wider ranges than nature has, so that a network learns what a root is rather than how one hand paints it.
//
// The ground is painted texel by texel (ground.go, wall.go, strew.go). What is long and thin is laid over it at 3 × 3 samples a
// texel, each thing hiding what lies below (ribbon.go), and the labels count those samples. Lengths are in mm, y downward.
package weave

import (
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
)

const (
	side  = 512 // texels
	perMM = 12
	sub   = 3 // samples a texel each way
	fine  = side * sub
	perS  = perMM * sub // samples a mm
	width = float64(side) / perMM
)

// scene is a drawing in the making.
type scene struct {
	dice
	*tray
	depth  field // mm inside the nearest plug's edge at each texel's middle, negative outside
	height field // how high the medium stands, deviation 1
	grain  field // white noise, deviation 1
	soil   rgb   // the medium's mean colour
	ground *canvas
	fine   *canvas
	stamp  []int32 // segment that passed over a sample last
	next   int32   // segments so far
	lampX  float64 // unit vector toward the lamp
	lampY  float64
	roots  []*root
	look   look
	out    *closeup.Roots
}

// Roots draws a plug's bottom as closeup.NewRoots(512, 12), 42.7 mm across. The same numbers give the same drawing.
func Roots(r *rand.Rand) *closeup.Roots {
	s := newScene(dice{r})
	s.paintGround()
	s.fine = s.ground.refined()
	s.layFibres(0.75)
	s.grow()
	for _, r := range s.roots {
		s.layRoot(r)
	}
	s.layFibres(0.3)
	s.litter()
	s.sumUp()
	s.finish()
	return s.out
}

func newScene(d dice) *scene {
	s := &scene{dice: d, tray: newTray(d), out: closeup.NewRoots(side, perMM)}
	s.lampX, s.lampY = d.facing()
	s.depth = make(field, side*side)
	rag, tear := d.in(0, 0.25)*d.Float64(), 0.0
	if d.chance(0.3) {
		tear = d.log(0.1, 1.2)
	}
	edge, torn := d.field(d.log(0.4, 3), 3, 0.6), d.field(d.log(2, 9), 2, 0.6)
	for i := range s.depth {
		x, y := place(i)
		s.depth[i] = float32(s.inside(x, y) + rag*float64(edge[i]) - tear*max(0, float64(torn[i])-0.6))
	}
	s.height = d.field(d.log(0.3, 2.5), 4, d.in(0.5, 0.9))
	s.grain = d.field(0.05, 1, 1)
	s.stamp = make([]int32, fine*fine)
	s.next = 1 << 10 // so that no stamp is near it yet
	s.look = newLook(d)
	return s
}

// place is the middle of a texel in mm.
func place(i int) (x, y float64) {
	return (float64(i%side) + 0.5) / perMM, (float64(i/side) + 0.5) / perMM
}

// texelAt is the texel at a place, or the nearest to it.
func texelAt(x, y float64) int {
	return min(side-1, max(0, int(y*perMM)))*side + min(side-1, max(0, int(x*perMM)))
}

// plugShare is the share of a texel that is plug.
func (s *scene) plugShare(i int) float32 { return clamp01(s.depth[i]*perMM + 0.5) }

// sumUp gathers the samples into texels, and the lines that can be seen.
func (s *scene) sumUp() {
	brown := make([]bool, s.next)
	for _, r := range s.roots {
		for k := range r.knots {
			brown[int(r.first)+k] = isBrown(r.knots[k].own)
		}
		s.lines(r)
	}
	const one = 1.0 / (sub * sub)
	for y := range fine {
		for x := range fine {
			k, i := y*fine+x, y/sub*side+x/sub
			s.out.Light[i] = plus(s.out.Light[i], s.fine.light[k], one)
			switch n := s.fine.owner[k]; {
			case n == 0:
			case brown[n]:
				s.out.Brown[i] += one
			default:
				s.out.White[i] += one
			}
		}
	}
	for i := range s.out.Plug {
		s.out.Plug[i] = s.plugShare(i)
		if over := s.out.White[i] + s.out.Brown[i]; over > 1 {
			s.out.White[i] /= over
			s.out.Brown[i] /= over
		}
	}
}
