package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// sheet is one piece of a plant, laid in the drawing: a blade, a leaflet, a stalk.
type sheet struct {
	plant uint8
	spine spine
	blade *blade
	skin  *skin
	lift  float64 // mm that it counts as higher than it is, where sheets lie over each other
	laid  []ring  // its outlines in the drawing, once they have been asked for
}

// outlines returns the sheet's outlines as they lie in the drawing.
func (s *sheet) outlines() []ring {
	if s.laid == nil {
		for _, g := range s.blade.rings {
			laid := make(ring, len(g))
			for k, p := range g {
				laid[k] = s.spine.place(p)
			}
			s.laid = append(s.laid, laid)
		}
	}
	return s.laid
}

// painter lays sheets on a canvas; it keeps its scratch from sheet to sheet.
type painter struct {
	*canvas
	deep  []float32
	cells []painted
}

// painted is one texel of a sheet on its way to the canvas.
type painted struct {
	texture
	gx, gy float32 // slope of the smooth sheet, as drawn
	z      float32
}

// paint lays one sheet over all that has been laid.
func (s *sheet) paint(p *painter) {
	p.shade(s.spine.plane().raised(0.4*s.lift), s.skin.shadow())
	if !s.skin.tube {
		p.deep = p.mask.depths(p.deep)
	}
	p.texture(s)
	p.light(s.skin, s.plant)
}

// shadow is how much of the lamp's light goes through, by colour.
func (k *skin) shadow() [3]float32 {
	v := float32(0.5 * k.through)
	return [3]float32{v * k.lit[0], v * k.lit[1], v * k.lit[2]}
}

// shown reports whether the piece being laid covers some of a texel of the mask and is not hidden there.
func (p *painter) shown(x, y int) bool {
	m := &p.mask
	return m.cover[y*m.w+x] > 0 && p.top[(m.y0+y)*p.Side+m.x0+x] <= p.now
}

// room makes room for the mask's texels.
func (p *painter) room() {
	n := p.mask.w * p.mask.h
	if cap(p.cells) < n {
		p.cells = make([]painted, n+n/2)
	}
	p.cells = p.cells[:n]
}

// texture finds what the sheet is in each texel.
func (p *painter) texture(s *sheet) {
	m := &p.mask
	p.room()
	hint := 0
	for y := range m.h {
		for x := range m.w {
			i := y*m.w + x
			if !p.shown(x, y) {
				continue
			}
			at := s.spine.find(point{float64(m.x0+x) + 0.5, float64(m.y0+y) + 0.5}, hint)
			hint = at.i
			c := &p.cells[i]
			inward := 1.0
			if !s.skin.tube {
				inward = float64(p.deep[i]) * p.flatMM
			}
			under := s.lie(c, at)
			c.texture = s.skin.at(s.blade, at, inward, under)
		}
	}
}

// lie fills in how the smooth sheet lies at a spot, and returns the share of its underside that shows.
func (s *sheet) lie(c *painted, at spot) (under float64) {
	a, b := &s.spine.stations[at.i], &s.spine.stations[at.i+1]
	half := s.blade.halfAt(at.s)
	left, right := mix(a.lift[0], b.lift[0], at.f), mix(a.lift[1], b.lift[1], at.f)
	out := clamp(at.y/half, -1.3, 1.3)
	crease := clamp(0.5+0.5*at.y/(0.15*half+0.2), 0, 1)
	across := mix(-right, left, crease)
	if s.skin.tube {
		across = -1.1 * out
	} else {
		across += s.skin.cup * out * math.Abs(out)
	}
	rise := mix(a.rise, b.rise, at.f)
	along := a.along.toward(b.along, at.f)
	c.gx = float32(rise*along.x - across*along.y)
	c.gy = float32(rise*along.y + across*along.x)
	lifted := left
	if at.side == 1 {
		lifted = right
	}
	c.z = float32(mix(a.z, b.z, at.f) + clamp(lifted, -1, 1)*math.Abs(at.y))
	return mix(a.under[at.side], b.under[at.side], at.f)
}

// light shades the mask's texels and lays them on the canvas, as a plant's or, for plant 0, as no leaf.
func (p *painter) light(k *skin, plant uint8) {
	m := &p.mask
	var l layer
	l.plant = plant
	for y := range m.h {
		for x := range m.w {
			i := y*m.w + x
			share := m.cover[i]
			if !p.shown(x, y) {
				continue
			}
			c := &p.cells[i]
			gx, gy := p.bumps(x, y, i)
			at := (m.y0+y)*p.Side + m.x0 + x
			open := 1.0
			if k.tube && p.Leaf[at] < 0.5 {
				open = openness(float64(c.z - p.z[at]))
			}
			p.shine(&l, c, k, float64(c.gx)+gx, float64(c.gy)+gy, open)
			p.lay(at, share, &l)
		}
	}
}

// bumps returns the slope of the sheet's bumps at a texel of the mask, from its covered neighbours.
func (p *painter) bumps(x, y, i int) (gx, gy float64) {
	m := &p.mask
	between := func(back, ahead bool, step int) float64 {
		a, b, n := i, i, 0
		if back {
			a, n = i-step, n+1
		}
		if ahead {
			b, n = i+step, n+1
		}
		if n == 0 {
			return 0
		}
		return clamp(float64(p.cells[b].bump-p.cells[a].bump)*p.PerMM/float64(n), -1.6, 1.6)
	}
	return between(x > 0 && p.shown(x-1, y), x < m.w-1 && p.shown(x+1, y), 1),
		between(y > 0 && p.shown(x, y-1), y < m.h-1 && p.shown(x, y+1), m.w)
}

// openness is the share of the sky that a stem sees so many mm over the ground from which it rises.
func openness(over float64) float64 {
	over = max(0, over)
	return 0.35 + 0.65*over/(over+1.5)
}

// shine fills in what a texel of a sheet looks like on its slope.
func (p *painter) shine(l *layer, c *painted, k *skin, gx, gy, open float64) {
	base := c.own
	if c.pale > 0 {
		base = blend(base, dustColour, c.pale)
	}
	if k.fuzz > 0 {
		steep := float32(1 - 1/math.Sqrt(1+gx*gx+gy*gy))
		base = blend(base, fuzzColour, float32(k.fuzz)*(0.25+steep))
	}
	lit := p.lamp.direct(gx, gy) * (0.5 + 0.5*open)
	sun := float32(p.lamp.sun * lit)
	back := float32(p.lamp.sun * k.through * max(0, 0.9-lit))
	shiny := float32(p.lamp.sun * k.gloss * float64(c.gloss) * p.lamp.gloss(gx, gy, k.rough))
	sky := float32(p.lamp.sky * open * p.lamp.around(gx, gy))
	sheen := sky * float32(k.sheen) * (0.4 + 0.6*c.gloss)
	for i := range 3 {
		l.sun[i] = base[i]*sun + k.lit[i]*back + shiny
		l.sky[i] = base[i]*sky + sheen
	}
	l.own, l.dead, l.z = c.own, c.dead, c.z
}

var (
	dustColour = closeup.RGB{0.32, 0.28, 0.22}
	fuzzColour = closeup.RGB{0.62, 0.66, 0.58}
)
