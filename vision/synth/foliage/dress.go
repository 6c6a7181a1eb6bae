package foliage

import "math"

// bladeSkin is the skin of a leaf's blade of a length and half-width in mm.
func (p *plant) bladeSkin(l leaf, long, half float64) *skin {
	d, c := p.d, p.complexion
	s := p.baseSkin(long, half)
	fresh := ramp(0.45, 0, l.age)
	lift, turn := p.shiftL+0.6*c.scatterL*d.bell(), p.shiftH+0.6*c.scatterH*d.bell()
	s.top, s.under = c.top.to(c.young, fresh).shifted(lift, turn), c.under.to(c.young, fresh).shifted(lift, turn)
	s.veins = l.veins
	s.veins.midrib = clamp(c.veinWide*long*d.between(0.8, 1.2), 0.15, 2.2)
	s.veins.width = clamp(0.4*s.veins.midrib, 0.1, 0.8)
	if p.monocot() {
		s.veins.midrib = clamp(0.3*half, 0.1, 0.8)
	}
	s.veinColour, s.veinShows = c.veinColour.shifted(lift, turn), c.veinShows
	s.paleEdge = c.pale
	p.health.ail(d, s, p.suffers, l.age)
	if p.wet > 0 && half > 1.5 {
		s.drops = p.wetting(long, half)
	}
	return s
}

// stalkSkin is the skin of a stalk or a stem.
func (p *plant) stalkSkin(age, long, wide float64) *skin {
	c := p.complexion
	s := p.baseSkin(long, wide)
	s.top = c.stalk.shifted(p.shiftL, p.shiftH)
	s.under = s.top
	s.blushed = c.blushStalk
	p.health.ail(p.d, s, p.suffers*0.7, age)
	s.dying = death{colour: p.health.dying.colour, second: p.health.dying.second}
	s.sick.edge, s.sick.along, s.thin = 0, 0, 0.1
	return s
}

func (p *plant) baseSkin(long, half float64) *skin {
	d, c := p.d, p.complexion
	return &skin{
		length: long, half: half, x: d.between(0, 256), y: d.between(0, 256),
		blush: c.blush, blushed: clamp(c.blushed*d.between(0.7, 1.2), 0, 1), mottle: c.mottle, cells: c.cells, thin: c.thin,
		gloss: c.gloss, rough: c.rough, fuzz: c.fuzz, dust: c.dust * d.Float64(),
		bumps: c.bumps * clamp(half/6, 0.25, 1), mesh: clamp(0.16*half, 0.7, 2.6),
	}
}

// wetting is the drops on a blade.
func (p *plant) wetting(long, half float64) []drop {
	n := int(math.Round(p.wet * long * half * 1.3 / 100 * p.d.between(0.3, 1.7)))
	var drops []drop
	for range min(n, 40) {
		r := p.d.scaled(0.15, 0.9)
		if p.d.chance(0.06) {
			r = p.d.between(0.9, 2)
		}
		drops = append(drops, drop{p.d.between(0.08, 0.95) * long, p.d.between(-0.85, 0.85) * half, min(r, 0.4*half)})
	}
	return drops
}
