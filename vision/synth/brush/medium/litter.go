package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/tray"
)

// Litter is what lies and grows on the medium beside roots: perlite, crumbs, stones, chips, fibres and moss.
func (s *Setting) Litter() []Layer {
	var all []Layer
	if s.Ordinary && s.Chance(0.75) || s.Chance(0.45) {
		all = append(all, s.perlite()...)
	}
	all = append(all, s.crumbs()...)
	all = append(all, s.fibres()...)
	if s.Chance(0.25) {
		all = append(all, s.strew(s.Ratio(3, 60), 0.05, s.stone)...)
	}
	if s.Chance(0.2) {
		all = append(all, s.strew(s.Ratio(30, 400), 0.05, s.meal)...)
	}
	if s.Chance(s.unless(0.06, 0.2)) {
		all = append(all, s.strew(s.Ratio(2, 60), 0.15, s.chip(s.bark()))...)
	}
	if s.Chance(s.unless(0.05, 0.15)) {
		all = append(all, s.strew(s.Ratio(3, 80), 0.1, s.flake)...)
	}
	if s.Chance(0.1) {
		all = append(all, s.strew(s.Ratio(1, 25), 0.1, s.charcoal)...)
	}
	if s.Chance(0.06) {
		all = append(all, s.strew(s.Ratio(1, 12), 0.3, s.scrap)...)
	}
	if s.Chance(0.05) {
		all = append(all, s.strew(s.Ratio(1, 8), 0.1, s.prill(num.Tint(s.Ratio(0.1, 0.5), s.Ratio(0.5, 2.2), s.Ratio(0.3, 1.5))))...)
	}
	if s.Chance(s.unless(0.08, 0.22)) {
		depth := -2.0 // under all else
		if s.Chance(0.25) {
			depth = s.Between(0, 1)
		}
		all = append(all, Layer{depth, s.moss})
	}
	return all
}

// unless returns the first for an ordinary drawing, else the second.
func (s *Setting) unless(ordinary, other float64) float64 {
	if s.Ordinary {
		return ordinary
	}
	return other
}

// strew lays things on all plugs: so many on a plug 34 mm wide, a share of them over the roots.
func (s *Setting) strew(count, over float64, thing func(at num.Vec) *lump) []Layer {
	var all []Layer
	for k := range s.Layout.Plugs {
		g := &s.Layout.Plugs[k]
		for n := int(float64(count*g.Area()/(tray.UsualArea*canvas.PerMM*canvas.PerMM)) + s.Float64()); n > 0; n-- {
			l := thing(g.Somewhere(s.Dice, -1))
			depth := s.Between(-1.2, -0.05)
			if s.Chance(over) {
				depth = s.Between(0, 1.15)
			}
			all = append(all, Layer{depth, func() { l.paint(s) }})
		}
	}
	return all
}

// perlite strews white grains of blown glass.
func (s *Setting) perlite() []Layer {
	big, pale, broken := s.Ratio(0.8, 4), s.Between(0.55, 0.88), s.Between(0, 1)
	holes, stained := s.Between32(0, 0.5), s.Between(0, 0.3)
	return s.strew(s.Ratio(1, 51), s.Between(0, 0.4), func(at num.Vec) *lump {
		s.Perlites++
		l := newLump(s.Dice, at, float64(s.Ratio(0.4, big)/2*canvas.PerMM), s.Chance(broken))
		l.colour = num.Tint(pale*s.Between(0.85, 1), s.Between(0.99, 1.05), s.Between(0.88, 1))
		l.grain, l.holes, l.sunk = s.Between32(0.05, 0.25), holes, s.Between32(0, 0.85)
		if s.Chance(stained) {
			l.colour = num.By(l.colour, num.Tint(s.Between(0.4, 0.9), 1.15, 0.75))
		}
		return l
	})
}

// crumbs strews single crumbs of the medium, some of them over the roots.
func (s *Setting) crumbs() []Layer {
	big := s.Ratio(0.3, 2.2)
	return s.strew(s.Ratio(10, 260), s.Between(0, 0.6), func(at num.Vec) *lump {
		l := newLump(s.Dice, at, float64(s.Ratio(0.12, big)/2*canvas.PerMM), s.Chance(0.6))
		l.colour = num.Mix(s.Recipe.Dark, s.Recipe.Pale, s.Between32(0.1, 1.1))
		l.grain, l.sunk, l.gloss = s.Between32(0.2, 0.5), s.Between32(0, 0.7), float32(0.3*s.Recipe.gloss)
		return l
	})
}

func (s *Setting) stone(at num.Vec) *lump {
	l := newLump(s.Dice, at, float64(s.Ratio(0.2, 2)/2*canvas.PerMM), s.Chance(0.5))
	l.colour = num.Tint(s.Ratio(0.06, 0.6), s.Between(0.97, 1.35), s.Between(0.6, 1.02))
	l.grain, l.sunk, l.gloss = s.Between32(0.05, 0.3), s.Between32(0.1, 0.8), s.Between32(0, 0.5)
	return l
}

// meal makes the finest mineral grains: dust of perlite, quartz and chalk.
func (s *Setting) meal(at num.Vec) *lump {
	l := newLump(s.Dice, at, float64(s.Ratio(0.08, 0.45)/2*canvas.PerMM), s.Chance(0.5))
	l.colour = num.Tint(s.Ratio(0.12, 0.85), s.Between(0.97, 1.15), s.Between(0.8, 1.02))
	l.grain, l.sunk, l.gloss = s.Between32(0, 0.2), s.Between32(0, 0.7), s.Between32(0, 0.5)
	return l
}

// bark draws the colour of chips.
func (s *Setting) bark() num.RGB {
	return num.Tint(s.Ratio(0.03, 0.25), s.Between(1.25, 1.9), s.Between(0.35, 0.65))
}

// chip makes chips of wood or bark of about one colour.
func (s *Setting) chip(colour num.RGB) func(at num.Vec) *lump {
	return func(at num.Vec) *lump {
		l := newLump(s.Dice, at, float64(s.Ratio(0.6, 4)/2*canvas.PerMM), true)
		l.long, l.tall = s.Between32(1, 1.7), s.Between32(0.2, 0.5)
		l.colour = num.Times(colour, s.Between32(0.6, 1.4))
		l.grain, l.layers, l.sunk = s.Between32(0.1, 0.3), s.Between32(0.1, 0.35), s.Between32(0, 0.7)
		return l
	}
}

// flake is a piece of vermiculite: a pile of golden leaves.
func (s *Setting) flake(at num.Vec) *lump {
	l := newLump(s.Dice, at, float64(s.Ratio(0.6, 3.5)/2*canvas.PerMM), true)
	l.colour = num.Tint(s.Ratio(0.1, 0.4), s.Between(1.15, 1.5), s.Between(0.35, 0.7))
	l.grain, l.layers, l.sunk, l.gloss = 0.15, s.Between32(0.2, 0.5), s.Between32(0, 0.7), s.Between32(0, 1.2)
	return l
}

func (s *Setting) charcoal(at num.Vec) *lump {
	l := newLump(s.Dice, at, float64(s.Ratio(0.4, 3)/2*canvas.PerMM), true)
	l.colour = num.Tint(s.Ratio(0.004, 0.02), 1, 1)
	l.grain, l.sunk, l.gloss = 0.2, s.Between32(0, 0.7), s.Between32(0, 0.5)
	return l
}

// prill makes beads of slow-release fertiliser of one colour.
func (s *Setting) prill(colour num.RGB) func(at num.Vec) *lump {
	size := s.Ratio(1.2, 4)
	return func(at num.Vec) *lump {
		l := newLump(s.Dice, at, float64(size*s.Between(0.8, 1.2)/2*canvas.PerMM), false)
		for k := range l.wobble {
			l.wobble[k] = l.wobble[k].Times(0.15)
		}
		l.long, l.tall = 1, 1
		l.colour, l.grain, l.sunk, l.gloss = num.Times(colour, s.Between32(0.85, 1.1)), 0.05, s.Between32(0, 0.6), s.Between32(0.1, 1)
		return l
	}
}

// scrap is a thin bit of leaf, straw, label or paper.
func (s *Setting) scrap(at num.Vec) *lump {
	l := newLump(s.Dice, at, float64(s.Ratio(0.4, 3)/2*canvas.PerMM), true)
	l.long, l.tall, l.shadow = s.Between32(1, 2), 0.08, s.Between32(0.1, 0.4)
	switch s.IntN(3) {
	case 0: // dead leaf or straw
		l.colour, l.grain, l.layers = num.Tint(s.Ratio(0.05, 0.4), s.Between(1.2, 1.7), s.Between(0.3, 0.6)), 0.2, 0.15
	case 1: // green leaf
		l.colour, l.grain = num.Tint(s.Ratio(0.04, 0.25), s.Between(0.4, 0.95), s.Between(0.1, 0.4)), 0.1
	case 2: // label or paper
		l.colour = num.Tint(s.Between(0.3, 0.9), s.Ratio(0.8, 1.25), s.Ratio(0.7, 1.3))
	}
	l.sunk = s.Between32(0, 0.5)
	return l
}

// fibres strews strands of coir, straw and wood.
func (s *Setting) fibres() []Layer {
	all := s.strewFibres(s.felt())
	if s.Chance(0.45) {
		all = append(all, s.strewFibres(s.strands())...)
	}
	return all
}

// fibreKind is what fibres of one kind are like and how they lie on the medium.
type fibreKind struct {
	count       float64 // on a plug of usual width
	thin, thick float64 // mm
	short, long float64 // mm
	base        num.RGB
	over        float64 // share of them that lies over roots
	sunk        float32 // how deep the deepest are buried: 0 on top, 1 out of sight
}

// felt draws fibres that hardly stand out, mostly sunk into the medium.
func (s *Setting) felt() fibreKind {
	k := fibreKind{count: s.Ratio(2, 40), thin: s.Ratio(0.03, 0.08), thick: s.Ratio(0.08, 0.3), short: 1, long: 12, sunk: 0.8}
	switch {
	case s.Chance(0.3):
		k.count = s.Ratio(30, 160)
	case s.Chance(0.5): // a felt of fibres, which is taken for brown roots most easily
		k.count, k.thick = s.Ratio(120, 700), s.Ratio(0.07, 0.25)
	}
	k.base = num.Tint(s.Ratio(0.03, 0.22), s.Between(1.25, 1.8), s.Between(0.3, 0.6))
	k.over = s.Between(0, 0.3)
	return k
}

// strands draws fibres that lie on top and are seen one by one, as in coarse coir; darker than brown roots as a rule, not always.
func (s *Setting) strands() fibreKind {
	ground := float64(num.Luminance(num.Mix(s.Recipe.Dark, s.Recipe.Pale, 0.5)))
	k := fibreKind{count: s.Ratio(50, 500), thin: s.Ratio(0.06, 0.16), thick: s.Ratio(0.16, 0.4), short: s.Ratio(1, 4), long: s.Ratio(5, 22), sunk: s.Between32(0, 0.5)}
	k.base = num.Tint(min(0.3, ground*s.Ratio(0.8, 2.4)), s.Between(1.2, 1.95), s.Between(0.3, 0.75))
	if s.Chance(0.3) {
		k.over = s.Between(0, 0.3)
	}
	return k
}

// strewFibres lays fibres of one kind on every plug.
func (s *Setting) strewFibres(k fibreKind) []Layer {
	var all []Layer
	for p := range s.Layout.Plugs {
		g := &s.Layout.Plugs[p]
		for n := int(float64(k.count*g.Area()/(tray.UsualArea*canvas.PerMM*canvas.PerMM)) + s.Float64()); n > 0; n-- {
			colour := num.Times(k.base, float32(s.Ratio(0.5, 1.6)))
			width := s.Ratio(k.thin, k.thick)
			f := newFibre(s.Dice, g.Somewhere(s.Dice, 1), min(s.Ratio(k.short, k.long), 60*width), width, k.sunk, colour)
			depth := s.Between(-1.3, -0.02)
			if s.Chance(k.over) {
				depth = s.Between(0, 1.1)
			}
			all = append(all, Layer{depth, func() { f.paint(s) }})
		}
	}
	return all
}
