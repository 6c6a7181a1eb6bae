package weave

import "math"

// paintWalls paints what surrounds the plugs: the gap, the cell's sloping wall, the tray's top.
func (s *scene) paintWalls() {
	own := s.tinted(
		tint{42, 0.006, 0.05, 0.92, 1.1, 0.9, 1.15},  // black
		tint{18, 0.04, 0.45, 0.95, 1.06, 0.92, 1.1},  // grey
		tint{14, 0.45, 0.95, 0.96, 1.06, 0.88, 1.04}, // white
		tint{10, 0.1, 0.35, 1.6, 2.6, 0.35, 0.75},    // terracotta
		tint{16, 0.01, 0.5, 0.2, 2.2, 0.2, 2.5},      // any colour
	)
	tone, shine := s.field(s.log(1, 15), 4, 0.6), s.streaks(s.log(0.3, 20), s.log(0.3, 20), 3, 0.6)
	vary, rough, gloss, edge := s.in32(0.01, 0.3), s.in32(0, 0.12), float32(s.maybe(0.5, 0, 0.5)), s.in32(0.8, 2)
	gap, wall := s.in(0.02, 0.6), s.in(0, 3)
	if s.chance(0.3) {
		gap = 0.02
	}
	deep, lit := s.in32(0.05, 0.9), s.in32(0, 0.8)
	glow := s.in32(0.02, 0.9)
	for i := range s.depth {
		if s.depth[i] > 0.5 {
			continue
		}
		x, y := place(i)
		in, _ := s.hole(x, y)
		out := -in
		light := 1 + vary*tone[i] + rough*s.grain[i]
		switch {
		case out < gap && s.depth[i] > -1: // between the plug and the wall
			light *= deep * 0.5
		case out < wall:
			nx, ny := s.inward(i)
			light *= deep + lit*(nx*float32(s.lampX)+ny*float32(s.lampY))*0.5 + (1-deep)*float32(out/wall)*0.6
		case in > 0: // an empty cell
			light *= glow * float32(math.Exp(-0.15*in))
		}
		c := times(own, max(0.02, light))
		if k := gloss * ease(edge, edge+2.5, shine[i]); k > 0 && out > 0 {
			c = plus(c, rgb{1, 1, 1}, k)
		}
		s.ground.light[i] = c
	}
	s.dirt(own)
}

// dirt strews crumbs and scratches over the tray.
func (s *scene) dirt(own rgb) {
	for n := int(s.log(1, 250)) - 1; n > 0; n-- {
		l := lump{r: s.log(0.06, 1) / 2, long: s.in(1, 2), faces: s.count(4, 8), colour: varied(s.dice, s.soil, 0.5), relief: 0.3, dark: 0.3}
		l.x, l.y = s.somewhere()
		s.lay(s.ground, &l)
	}
	if !s.chance(0.35) {
		return
	}
	bright := s.in32(0.02, 0.3)
	for n := s.count(1, 25); n > 0; n-- {
		x, y := s.somewhere()
		dx, dy := s.facing()
		for k := s.in(1, 25) * perMM; k > 0; k-- {
			if i := texelAt(x, y); x > 0 && y > 0 && x < width && y < width {
				s.ground.light[i] = plus(s.ground.light[i], rgb{1, 1, 1}, bright*(own[1]+0.05))
			}
			x, y = x+dx/perMM, y+dy/perMM
		}
	}
}

// inward is the direction in which a plug's edge grows farther away.
func (s *scene) inward(i int) (x, y float32) {
	px, py := i%side, i/side
	x = s.depth[py*side+min(side-1, px+1)] - s.depth[py*side+max(0, px-1)]
	y = s.depth[min(side-1, py+1)*side+px] - s.depth[max(0, py-1)*side+px]
	n := float32(math.Hypot(float64(x), float64(y))) + 1e-6
	return x / n, y / n
}
