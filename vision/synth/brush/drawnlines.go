package brush

// evenLines lays straight or gently bent roots of one exact width each over the others.
func (s *scene) evenLines(b *rootBrush) []layer {
	var all []layer
	for n := s.whole(3, 12); n > 0; n-- {
		r := s.evenLine(&s.layout.plugs[s.IntN(len(s.layout.plugs))])
		o := s.look.single(s.dice)
		brown := make([]float32, len(r.points))
		if s.chance(0.15) {
			fill(brown, 1)
		}
		r.colour(s.dice, &o, brown)
		all = append(all, layer{s.between(0.7, 1.2), func() { b.paint(r, &o) }})
	}
	return all
}

// evenLine draws one such root within a plug.
func (s *scene) evenLine(g *plug) *root {
	width, length := s.ratio(0.08, 1.2), s.between(4, 32)
	const step = 2.5
	n := int(length*perMM/step) + 1
	r := &root{ribbon: ribbon{step: step, blunt: s.chance(0.6), cut: s.chance(0.6)}, width: width, bury: make([]float32, n)}
	r.half = make([]float32, n)
	fill(r.half, float32(width*perMM/2))
	way := s.direction()
	at := g.somewhere(s.dice, 4).along(way, -length*perMM/2)
	bend := 0.0
	if s.chance(0.4) {
		bend = float64(step / perMM * s.between(-0.06, 0.06))
	}
	for range n {
		r.points = append(r.points, at)
		at = at.along(way, step)
		way = way.along(way.quarter(), bend).unit()
	}
	return r
}
