package brush

// litter is what lies and grows on the medium beside roots: perlite, crumbs, stones, chips, fibres and moss.
func (s *scene) litter() []layer {
	var all []layer
	if s.ordinary && s.chance(0.75) || s.chance(0.45) {
		all = append(all, s.perlite()...)
	}
	all = append(all, s.crumbs()...)
	all = append(all, s.fibres()...)
	if s.chance(0.25) {
		all = append(all, s.strew(s.ratio(3, 60), 0.05, s.stone)...)
	}
	if s.chance(0.2) {
		all = append(all, s.strew(s.ratio(30, 400), 0.05, s.meal)...)
	}
	if s.chance(s.unless(0.06, 0.2)) {
		all = append(all, s.strew(s.ratio(2, 60), 0.15, s.chip(s.bark()))...)
	}
	if s.chance(s.unless(0.05, 0.15)) {
		all = append(all, s.strew(s.ratio(3, 80), 0.1, s.flake)...)
	}
	if s.chance(0.1) {
		all = append(all, s.strew(s.ratio(1, 25), 0.1, s.charcoal)...)
	}
	if s.chance(0.06) {
		all = append(all, s.strew(s.ratio(1, 12), 0.3, s.scrap)...)
	}
	if s.chance(0.05) {
		all = append(all, s.strew(s.ratio(1, 8), 0.1, s.prill(tint(s.ratio(0.1, 0.5), s.ratio(0.5, 2.2), s.ratio(0.3, 1.5))))...)
	}
	if s.chance(s.unless(0.08, 0.22)) {
		depth := -2.0 // under all else
		if s.chance(0.25) {
			depth = s.between(0, 1)
		}
		all = append(all, layer{depth, s.moss})
	}
	return all
}

// unless returns the first for an ordinary drawing, else the second.
func (s *scene) unless(ordinary, other float64) float64 {
	if s.ordinary {
		return ordinary
	}
	return other
}

// strew lays things on all plugs: so many on a plug 34 mm wide, a share of them over the roots.
func (s *scene) strew(count, over float64, thing func(at vec) *lump) []layer {
	var all []layer
	for k := range s.layout.plugs {
		g := &s.layout.plugs[k]
		for n := int(float64(count*g.area()/(908*perMM*perMM)) + s.Float64()); n > 0; n-- {
			l := thing(g.somewhere(s.dice, -1))
			depth := s.between(-1.2, -0.05)
			if s.chance(over) {
				depth = s.between(0, 1.15)
			}
			all = append(all, layer{depth, func() { l.paint(s) }})
		}
	}
	return all
}

// perlite strews white grains of blown glass.
func (s *scene) perlite() []layer {
	big, pale, broken := s.ratio(0.8, 4), s.between(0.55, 0.88), s.between(0, 1)
	holes, stained := s.between32(0, 0.5), s.between(0, 0.3)
	return s.strew(s.ratio(1, 51), s.between(0, 0.4), func(at vec) *lump {
		s.perlites++
		l := newLump(s.dice, at, float64(s.ratio(0.4, big)/2*perMM), s.chance(broken))
		l.colour = tint(pale*s.between(0.85, 1), s.between(0.99, 1.05), s.between(0.88, 1))
		l.grain, l.holes, l.sunk = s.between32(0.05, 0.25), holes, s.between32(0, 0.85)
		if s.chance(stained) {
			l.colour = by(l.colour, tint(s.between(0.4, 0.9), 1.15, 0.75))
		}
		return l
	})
}

// crumbs strews single crumbs of the medium, some of them over the roots.
func (s *scene) crumbs() []layer {
	big := s.ratio(0.3, 2.2)
	return s.strew(s.ratio(10, 260), s.between(0, 0.6), func(at vec) *lump {
		l := newLump(s.dice, at, float64(s.ratio(0.12, big)/2*perMM), s.chance(0.6))
		l.colour = mix(s.recipe.dark, s.recipe.pale, s.between32(0.1, 1.1))
		l.grain, l.sunk, l.gloss = s.between32(0.2, 0.5), s.between32(0, 0.7), float32(0.3*s.recipe.gloss)
		return l
	})
}

func (s *scene) stone(at vec) *lump {
	l := newLump(s.dice, at, float64(s.ratio(0.2, 2)/2*perMM), s.chance(0.5))
	l.colour = tint(s.ratio(0.06, 0.6), s.between(0.97, 1.35), s.between(0.6, 1.02))
	l.grain, l.sunk, l.gloss = s.between32(0.05, 0.3), s.between32(0.1, 0.8), s.between32(0, 0.5)
	return l
}

// meal makes the finest mineral grains: dust of perlite, quartz and chalk.
func (s *scene) meal(at vec) *lump {
	l := newLump(s.dice, at, float64(s.ratio(0.08, 0.45)/2*perMM), s.chance(0.5))
	l.colour = tint(s.ratio(0.12, 0.85), s.between(0.97, 1.15), s.between(0.8, 1.02))
	l.grain, l.sunk, l.gloss = s.between32(0, 0.2), s.between32(0, 0.7), s.between32(0, 0.5)
	return l
}

// bark draws the colour of chips.
func (s *scene) bark() rgb {
	return tint(s.ratio(0.03, 0.25), s.between(1.25, 1.9), s.between(0.35, 0.65))
}

// chip makes chips of wood or bark of about one colour.
func (s *scene) chip(colour rgb) func(at vec) *lump {
	return func(at vec) *lump {
		l := newLump(s.dice, at, float64(s.ratio(0.6, 4)/2*perMM), true)
		l.long, l.tall = s.between32(1, 1.7), s.between32(0.2, 0.5)
		l.colour = times(colour, s.between32(0.6, 1.4))
		l.grain, l.layers, l.sunk = s.between32(0.1, 0.3), s.between32(0.1, 0.35), s.between32(0, 0.7)
		return l
	}
}

// flake is a piece of vermiculite: a pile of golden leaves.
func (s *scene) flake(at vec) *lump {
	l := newLump(s.dice, at, float64(s.ratio(0.6, 3.5)/2*perMM), true)
	l.colour = tint(s.ratio(0.1, 0.4), s.between(1.15, 1.5), s.between(0.35, 0.7))
	l.grain, l.layers, l.sunk, l.gloss = 0.15, s.between32(0.2, 0.5), s.between32(0, 0.7), s.between32(0, 1.2)
	return l
}

func (s *scene) charcoal(at vec) *lump {
	l := newLump(s.dice, at, float64(s.ratio(0.4, 3)/2*perMM), true)
	l.colour = tint(s.ratio(0.004, 0.02), 1, 1)
	l.grain, l.sunk, l.gloss = 0.2, s.between32(0, 0.7), s.between32(0, 0.5)
	return l
}

// prill makes beads of slow-release fertiliser of one colour.
func (s *scene) prill(colour rgb) func(at vec) *lump {
	size := s.ratio(1.2, 4)
	return func(at vec) *lump {
		l := newLump(s.dice, at, float64(size*s.between(0.8, 1.2)/2*perMM), false)
		for k := range l.wobble {
			l.wobble[k] = l.wobble[k].times(0.15)
		}
		l.long, l.tall = 1, 1
		l.colour, l.grain, l.sunk, l.gloss = times(colour, s.between32(0.85, 1.1)), 0.05, s.between32(0, 0.6), s.between32(0.1, 1)
		return l
	}
}

// scrap is a thin bit of leaf, straw, label or paper.
func (s *scene) scrap(at vec) *lump {
	l := newLump(s.dice, at, float64(s.ratio(0.4, 3)/2*perMM), true)
	l.long, l.tall, l.shadow = s.between32(1, 2), 0.08, s.between32(0.1, 0.4)
	switch s.IntN(3) {
	case 0: // dead leaf or straw
		l.colour, l.grain, l.layers = tint(s.ratio(0.05, 0.4), s.between(1.2, 1.7), s.between(0.3, 0.6)), 0.2, 0.15
	case 1: // green leaf
		l.colour, l.grain = tint(s.ratio(0.04, 0.25), s.between(0.4, 0.95), s.between(0.1, 0.4)), 0.1
	case 2: // label or paper
		l.colour = tint(s.between(0.3, 0.9), s.ratio(0.8, 1.25), s.ratio(0.7, 1.3))
	}
	l.sunk = s.between32(0, 0.5)
	return l
}

// fibres strews strands of coir, straw and wood.
func (s *scene) fibres() []layer {
	count := s.ratio(2, 40)
	thin, thick := s.ratio(0.03, 0.08), s.ratio(0.08, 0.3)
	switch {
	case s.chance(0.3):
		count = s.ratio(30, 160)
	case s.chance(0.3): // a felt of fine fibres
		count, thick = s.ratio(160, 700), s.ratio(0.07, 0.16)
	}
	base := tint(s.ratio(0.03, 0.22), s.between(1.25, 1.8), s.between(0.3, 0.6))
	over := s.between(0, 0.3)
	var all []layer
	for k := range s.layout.plugs {
		g := &s.layout.plugs[k]
		for n := int(float64(count*g.area()/(908*perMM*perMM)) + s.Float64()); n > 0; n-- {
			colour := times(base, float32(s.ratio(0.5, 1.6)))
			width := s.ratio(thin, thick)
			f := newFibre(s.dice, g.somewhere(s.dice, 1), min(s.ratio(1, 12), 60*width), width, colour)
			depth := s.between(-1.3, -0.02)
			if s.chance(over) {
				depth = s.between(0, 1.1)
			}
			all = append(all, layer{depth, func() { f.paint(s) }})
		}
	}
	return all
}
