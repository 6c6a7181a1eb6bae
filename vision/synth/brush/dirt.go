package brush

// dirty strews soil crumbs and scratches over the tray or table.
func (s *scene) dirty() {
	for n := int(s.ratio(1, 150)) - 1; n > 0; n-- {
		l := newLump(s.dice, vec{s.between(0, side), s.between(0, side)}, float64(s.ratio(0.08, 0.9)/2*perMM), s.chance(0.7))
		l.colour = mix(s.recipe.dark, s.recipe.pale, s.between32(0.2, 1.2))
		l.grain = 0.3
		l.paint(s)
	}
	if s.chance(0.3) {
		bright := s.between32(0.02, 0.2)
		for n := s.whole(1, 12); n > 0; n-- {
			s.scratch(bright)
		}
	}
}

// scratch lays one fine scratch.
func (s *scene) scratch(bright float32) {
	const step = 4
	at, way, half := vec{s.between(0, side), s.between(0, side)}, s.direction(), s.between32(0.2, 0.7)
	b := ribbon{step: step}
	for n := s.whole(5, 50); n > 0; n-- {
		b.points = append(b.points, at)
		b.half = append(b.half, half)
		at = at.along(way, step)
		way = way.turned(float64(0.02 * s.normal()))
	}
	s.trace(&b, func(i int, t *touch) {
		s.Light[i] = sum(s.Light[i], times(rgb{bright, bright, bright}, t.share()))
	})
}
