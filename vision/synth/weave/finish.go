package weave

// litter lays crumbs and perlite over the roots.
func (s *scene) litter() {
	if s.chance(0.55) {
		big := s.log(0.15, 1.6)
		own := mix(s.soil, s.stuff(), s.in32(0, 0.6))
		for n := int(s.log(2, 500)); n > 0; n-- {
			l := lump{r: s.log(0.08, big) / 2, long: s.in(1, 2), faces: s.count(4, 8), colour: varied(s.dice, own, 0.4), relief: s.in32(0, 0.5), dark: 0.4}
			l.x, l.y = s.somewhere()
			if len(s.roots) > 0 && s.chance(0.5) { // sticks to a root
				r := s.roots[s.IntN(len(s.roots))]
				q := r.knots[s.IntN(len(r.knots))]
				l.x, l.y = q.x+q.r*s.NormFloat64(), q.y+q.r*s.NormFloat64()
			}
			if s.depth[texelAt(l.x, l.y)] > 0 {
				s.lay(s.fine, &l)
			}
		}
	}
	if s.chance(0.2) {
		for n := s.count(1, 8); n > 0; n-- {
			x, y := s.somewhere()
			s.layPerlite(s.fine, x, y, s.log(0.4, 2.5)/2)
		}
	}
}

// finish lays the light of the place over all: the wall's shade, patches, water's shine.
func (s *scene) finish() {
	ring, dark, sided := s.in32(0.05, 0.6), float32(s.maybe(0.6, 0, 0.95)), s.in32(0, 1)
	patch, patchy := s.field(s.log(4, 25), 2, 0.5), s.in32(0, 0.15)
	var gloss field
	sky, edge := s.in32(0.05, 0.7), s.in32(0.7, 2)
	if s.chance(0.2) { // a film of water
		gloss = s.field(s.log(0.3, 4), 3, 0.7)
	}
	for i := range s.out.Light {
		light := 1 + patchy*patch[i]
		if in := s.depth[i]; in > -0.3 && in < ring && dark > 0 {
			nx, ny := s.inward(i)
			facing := clamp01(0.5 - 0.5*(nx*float32(s.lampX)+ny*float32(s.lampY))) // 1 where the wall stands between the plug and the lamp
			light *= 1 - dark*lerp(1, facing, sided)*(1-max(0, in)/ring)
		}
		c := times(s.out.Light[i], max(0.1, light))
		if gloss != nil && s.depth[i] > 0 {
			k := ease(edge, edge+0.5, gloss[i])
			seen := 1 - 0.9*(s.out.White[i]+s.out.Brown[i])
			c = plus(c, rgb{sky, sky, sky}, k*seen*ease(0.3, 1.5, s.grain[i]+0.8*s.height[i]))
		}
		for k := range c {
			c[k] = min(4, max(0, c[k]))
		}
		s.out.Light[i] = c
	}
}
