package relief

import (
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/relief/bench"
	"traygauge/vision/synth/relief/lighting"
	"traygauge/vision/synth/relief/medium"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
	"traygauge/vision/synth/relief/solids"
)

// Roots draws a plug's bottom, 42.7 mm across, as closeup.NewRoots(512, 12). The same seed gives the same drawing.
func Roots(r *rand.Rand) *closeup.Roots {
	s := newSubject(num.Dice{Rand: r})
	s.layGround()
	s.plantRoots()
	s.layOver()
	return s.draw()
}

// subject is what is being drawn.
type subject struct {
	num.Dice
	*solids.Relief
	palette solids.Palette
	layout  bench.Layout
	soil    medium.Soil
	medium  medium.Medium
	floor   uint16
	perlite int // grains in the drawing
	swell   solids.Coarse
	heap    *medium.Heap
	look    look
	grower  *roots.Grower
	bed     *roots.Bed
}

func newSubject(d num.Dice) *subject {
	s := &subject{Dice: d, Relief: solids.NewRelief(), palette: make(solids.Palette, 1, 300)}
	s.layout = bench.NewLayout(d, s.Tables)
	s.soil = medium.NewSoil(d)
	s.medium = medium.NewMedium(d, &s.palette, &s.soil)
	s.floor = s.palette.Add(s.medium.Floor)
	s.swell = s.layout.Swell(d, s.Tables, s.medium.Waves)
	if d.Chance(0.7) {
		s.perlite = int(d.Scaled(1, 51))
	}
	s.look = newLook(d, s.soil.Wet)
	s.look.soil = s.medium.Floor.Own
	return s
}

// layGround lays what roots come to rest on: tray or board, medium, perlite, what grows there.
func (s *subject) layGround() {
	b := bench.Bench{Layout: &s.layout, Floor: s.floor, Undulate: s.swell, FloorGrit: s.medium.Grit, Sunk: s.medium.Sunk}
	b.Lay(s.Dice, s.Relief, &s.palette)
	s.heap = medium.NewHeap(s.Dice, s.Relief, &s.palette, s.layout.Plug, s.swell)
	s.heap.Fill(&s.medium)
	s.heap.LayPerlite(s.perlite, s.Scaled(1, 4), 0.4*s.Float32()*s.Float32(), 0)
	s.heap.Growths(s.Dice, s.soil.Wet)
	if s.soil.Wet > 0.6 && s.Chance(0.5) {
		s.heap.Film(s.Dice, s.medium.Sunk*s.Between(0.4, 1.2), s.medium.Floor)
	}
}

// plantRoots grows the roots and brings them to rest, but does not lay their tubes yet.
func (s *subject) plantRoots() {
	s.grower = roots.NewGrower(s.Dice, s.Tables, s.layout.Plugs, roots.NewStand(s.Dice, s.heap.Area))
	if s.Chance(0.95) {
		s.grower.Browning.ClearOf(s.medium.Floor.Own)
	}
	s.grower.Grow()
	if s.Chance(0.16) && len(s.layout.Plugs) > 0 {
		s.grower.Gauges()
	}
	s.bed = roots.NewBed(s.Relief, s.swell, s.look.high, s.Scaled(0.2, 1), s.Between(0.3, 1))
	sunk := s.Between(0, 0.6) * s.Float32()
	s.bed.Settle(s.grower.Paths, sunk)
}

// layOver lays what lies over the roots: crumbs, perlite, drops, and things from outside.
func (s *subject) layOver() {
	s.dirtyRoots()
	if s.Chance(0.2) {
		s.heap.LayPerlite(s.Count(1, 6), 2, 0.1, s.Between(0.1, 0.5))
	}
	if s.soil.Wet > 0.5 && s.Chance(0.35) {
		s.heap.Drops(s.Dice, int(s.Scaled(1, 120)), s.bed.TopAt)
	}
	if s.Chance(0.06) {
		s.heap.Cover(s.Dice)
	}
}

// dirtyRoots lays crumbs of the medium on the roots.
func (s *subject) dirtyRoots() {
	if !s.Chance(0.5) || len(s.grower.Paths) == 0 {
		return
	}
	kin := s.palette.Kin(s.Dice, 8, s.medium.Floor, 0.4)
	dense := s.Scaled(0.005, 0.4) // a mm
	large := s.Scaled(0.2, 0.9)
	for i := range s.grower.Paths {
		p := &s.grower.Paths[i]
		for at := s.Float32() / dense; at < p.Long(); at += s.Between(0.1, 1.9) / dense {
			q := p.Points[int(at/p.Long()*float32(len(p.Points)-1))]
			size := s.Scaled(0.1, large)
			x, y := s.Facing()
			s.Crumb(solids.Crumb{X: q.X + float32(q.Radius*s.Bell()), Y: q.Y + float32(q.Radius*s.Bell()), Z: q.Z + float32(0.6*q.Radius), Long: size / 2,
				Short: size / 2 * s.Between(0.5, 1), High: size / 2 * s.Between(0.4,
					0.9), AlongX: x, AlongY: y, Rough: 0.3, Bump: 0.02, Solid: s.One(kin)}, s.Place())
		}
	}
}

// draw lays the tubes, lights everything and counts what can be seen.
func (s *subject) draw() *closeup.Roots {
	paths := s.grower.Paths
	t := roots.LayTubes(s.look.high, paths, s.Relief)
	out := closeup.NewRoots(solids.Side, solids.PerMM)
	t.Lines(paths, out.Line)
	s.render(t, out)
	return out
}

func (s *subject) render(t *roots.Tubes, out *closeup.Roots) {
	lamp := lighting.NewLamp(s.Dice)
	high := t
	if s.look.even {
		high = roots.LayTubes(1, nil, s.Relief) // evenly coloured strokes throw no shade
	}
	means := high.Means(s.Relief)
	vary, sx, sy := s.Between(0.02, 0.16), s.Between(0, 500), s.Between(0, 500)
	scale := num.SoftWave / s.Scaled(2, 15)
	p := picture{look: s.look, Tubes: t, out: out, fuzz: newFuzz(s.Dice, s.grower.Paths, s.grower.White, s.heap.Area)}
	p.shader = shader{Relief: s.Relief, lamp: &lamp, palette: s.palette,
		shades: lamp.Shades(func() []float32 { return high.Over(s.Relief) }, means), hollows: lamp.Hollows(means)}
	p.patches = solids.NewCoarse(func(x, y float32) float32 {
		fine := s.Soft.At(float32(x*scale*2.7)+sy, float32(y*scale*2.7)+sx)
		return 1 + float32(vary*(s.Soft.At(float32(x*scale)+sx, float32(y*scale)+sy)+float32(0.6*fine)))
	})
	p.cast = lighting.NewCast(s.Dice, lamp.Gradient)
	p.resolve()
}
