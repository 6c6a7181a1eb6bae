package relief

import (
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
)

// Roots draws a plug's bottom, 42.7 mm across, as closeup.NewRoots(512, 12). The same seed gives the same drawing.
func Roots(r *rand.Rand) *closeup.Roots {
	s := newSubject(dice{r})
	s.layGround()
	s.plantRoots()
	s.layOver()
	return s.draw()
}

// subject is what is being drawn.
type subject struct {
	dice
	*relief
	palette palette
	layout  layout
	soil    soil
	medium  medium
	floor   uint16
	perlite int // grains in the drawing
	swell   coarse
	heap    *heap
	look    look
	grower  *grower
	bed     *bed
}

func newSubject(d dice) *subject {
	s := &subject{dice: d, relief: newRelief(), palette: make(palette, 1, 300)}
	s.layout = newLayout(d, s.tables)
	s.soil = soil{wet: d.Float32(), glint: d.Float32(), dust: hue(d.between(0.1, 0.3), d.between(1.05, 1.3), d.between(0.65, 0.9))}
	s.medium = newMedium(d, &s.palette, &s.soil)
	s.floor = s.palette.add(s.medium.floor)
	s.swell = s.layout.swell(d, s.tables, s.medium.waves)
	if d.chance(0.7) {
		s.perlite = int(d.scaled(1, 51))
	}
	s.look = newLook(d, s.soil.wet)
	s.look.soil = s.medium.floor.own
	return s
}

// layGround lays what roots come to rest on: tray or board, medium, perlite, what grows there.
func (s *subject) layGround() {
	b := bench{layout: &s.layout, floor: s.floor, undulate: s.swell, floorGrit: s.medium.grit, sunk: s.medium.sunk}
	if s.chance(0.12) && !s.layout.empty {
		b.board = s.palette.newBoard(s.dice)
	} else {
		b.tray = s.palette.newTray(s.dice, s.layout.empty)
	}
	b.ground(s.relief, s.IntN(1<<18))
	b.holes(s.dice, s.relief)
	b.dirt(s.dice, s.relief, &s.palette, s.medium.floor)
	s.heap = newHeap(s.dice, s.relief, &s.palette, s.layout.plug, s.swell)
	for _, p := range s.medium.parts {
		s.heap.fill(p)
	}
	s.heap.layPerlite(s.perlite, s.scaled(1, 4), 0.4*s.Float32()*s.Float32(), 0)
	s.heap.growths(s.dice, s.soil.wet)
	if s.soil.wet > 0.6 && s.chance(0.5) {
		s.heap.film(s.dice, s.medium.sunk*s.between(0.4, 1.2), s.medium.floor)
	}
}

// plantRoots grows the roots and brings them to rest, but does not lay their tubes yet.
func (s *subject) plantRoots() {
	s.grower = newGrower(s.dice, s.tables, s.layout.plugs, newStand(s.dice, s.heap.area))
	if s.chance(0.95) {
		s.grower.browning.brown = s.grower.browning.brown.clearOf(s.medium.floor.own)
	}
	s.grower.grow()
	if s.chance(0.16) && len(s.layout.plugs) > 0 {
		s.grower.gauges()
	}
	s.bed = newBed(s.relief, s.swell, s.look.high, s.scaled(0.2, 1), s.between(0.3, 1))
	sunk := s.between(0, 0.6) * s.Float32()
	for i := range s.grower.paths {
		p := &s.grower.paths[i]
		var stem *point
		if p.stem >= 0 {
			stem = &s.grower.paths[p.stem].points[p.fork]
		}
		s.bed.settle(p, sunk, stem)
	}
}

// layOver lays what lies over the roots: crumbs, perlite, drops, and things from outside.
func (s *subject) layOver() {
	s.dirtyRoots()
	if s.chance(0.2) {
		s.heap.layPerlite(s.count(1, 6), 2, 0.1, s.between(0.1, 0.5))
	}
	if s.soil.wet > 0.5 && s.chance(0.35) {
		s.heap.drops(s.dice, int(s.scaled(1, 120)), s.bed.topAt)
	}
	if s.chance(0.06) {
		s.heap.cover(s.dice)
	}
}

// dirtyRoots lays crumbs of the medium on the roots.
func (s *subject) dirtyRoots() {
	if !s.chance(0.5) || len(s.grower.paths) == 0 {
		return
	}
	kin := s.palette.kin(s.dice, 8, s.medium.floor, 0.4)
	dense := s.scaled(0.005, 0.4) // a mm
	large := s.scaled(0.2, 0.9)
	for i := range s.grower.paths {
		p := &s.grower.paths[i]
		for at := s.Float32() / dense; at < p.long(); at += s.between(0.1, 1.9) / dense {
			q := p.points[int(at/p.long()*float32(len(p.points)-1))]
			size := s.scaled(0.1, large)
			x, y := s.facing()
			s.crumb(crumb{q.x + float32(q.radius*s.bell()), q.y + float32(q.radius*s.bell()), q.z + float32(0.6*q.radius), size / 2,
				size / 2 * s.between(0.5, 1), size / 2 * s.between(0.4, 0.9), x, y, 0.3, 0.02, s.one(kin)}, s.IntN(1<<18))
		}
	}
}

// draw lays the tubes, lights everything and counts what can be seen.
func (s *subject) draw() *closeup.Roots {
	paths := s.grower.paths
	points := 0
	for i := range paths {
		points += len(paths[i].points)
	}
	t := newTubes(s.look.high, points)
	for i := range paths {
		t.lay(&paths[i], i, s.relief)
	}
	out := closeup.NewRoots(side, perMM)
	for i := range paths {
		t.lines(&paths[i], i, out.Line)
	}
	s.render(t, out)
	return out
}

func (s *subject) render(t *tubes, out *closeup.Roots) {
	lamp := newLamp(s.dice)
	high := t
	if s.look.even {
		high = newTubes(1, 0) // evenly coloured strokes throw no shade
	}
	means := texelMeans(s.relief, high)
	vary, sx, sy := s.between(0.02, 0.16), s.between(0, 500), s.between(0, 500)
	scale := 32 / s.scaled(2, 15)
	p := picture{look: s.look, tubes: t, out: out, fuzz: newFuzz(s.dice, s.grower.paths, s.grower.white, s.heap.area)}
	p.shader = shader{relief: s.relief, lamp: &lamp, palette: s.palette, shades: lamp.shades(s.relief, high, means), hollows: lamp.hollows(means)}
	p.patches = newCoarse(func(x, y float32) float32 {
		fine := s.soft.at(float32(x*scale*2.7)+sy, float32(y*scale*2.7)+sx)
		return 1 + float32(vary*(s.soft.at(float32(x*scale)+sx, float32(y*scale)+sy)+float32(0.6*fine)))
	})
	p.cast = newCast(s.dice, lamp.gradient)
	p.resolve()
}
