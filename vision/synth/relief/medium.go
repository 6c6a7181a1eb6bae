package relief

// medium is what a plug is made of.
type medium struct {
	parts []part
	floor material
	sunk  float32 // mm by which the floor lies below the heap's tops
	grit  float32 // mm of the floor's roughness
	waves float32 // shares the plug's surface waves
}

// soil is how wet and how dark a drawing's medium is.
type soil struct {
	wet   float32 // 0 for dusty dry to 1 for dripping
	glint float32 // how strongly wet medium glints, 0 to 1
	dust  rgb     // what lies on dry medium
}

// matter returns the material of a particle of the given own colour when dry: water darkens it and makes it glint.
func (s *soil) matter(own rgb) material {
	dark := mix(1, 0.35, s.wet)
	if s.wet < 0.3 {
		own = own.toward(s.dust, 0.35*(1-s.wet/0.3))
	}
	m := material{own: own.times(dark), owner: ofPlug, mottle: mix(0.25, 0.4, s.wet), wrap: 0.12}
	if s.wet > 0.35 {
		m.gloss, m.rough = 0.1*(s.wet-0.35)*s.glint, mix(0.5, 0.25, s.wet)
		m.polish = 4 + int(3.5*s.wet)
	}
	return m
}

// newMedium draws a medium: dark peat in every other drawing.
func newMedium(d dice, p *palette, s *soil) medium {
	kinds := []func(dice, *palette, *soil) medium{peat, coir, bark, vermiculite, rockwool, sand, loam}
	m := kinds[d.pick(0.6, 0.1, 0.07, 0.04, 0.05, 0.05, 0.09)](d, p, s)
	if d.chance(0.15) { // a mixture
		other := kinds[d.pick(0.3, 0.2, 0.2, 0.2, 0, 0.2, 0.1)](d, p, s)
		share := d.between(0.1, 0.6)
		for _, part := range other.parts {
			part.cover *= share
			m.parts = append(m.parts, part)
		}
	}
	m.parts = append(m.parts, litter(d, p, s)...)
	return m
}

// earth is a brown of the given luminance.
func earth(d dice, luminance float32) rgb {
	return hue(luminance, d.between(1.12, 1.75), d.between(0.45, 0.85))
}

func peat(d dice, p *palette, s *soil) medium {
	own := earth(d, d.scaled(0.012, 0.075))
	m := s.matter(own)
	body := p.kin(d, 14, m, 0.4)
	pale := p.kin(d, 6, s.matter(own.times(d.between(1.6, 3))), 0.4)
	large := d.scaled(0.5, 4)
	threads := p.kin(d, 6, s.matter(earth(d, d.between(0.04, 0.14))), 0.4)
	m.own = m.own.times(0.8)
	felt := d.scaled(0.02, 1.2)
	if d.chance(0.2) {
		felt = d.scaled(1.2, 7)
	}
	return medium{
		floor: m, sunk: 0.15 * large, grit: d.between(0.02, 0.05), waves: 1,
		parts: []part{
			{d.between(0.5, 1.4), 0.22, large, body, crumbs(d.between(0.15, 0.5), d.between(0.4, 0.9))},
			{d.between(0, 0.12), 0.15, 0.8, pale, crumbs(0.3, 0.5)},
			{felt, 1.2, 9, threads, fibres(0.03, 0.16, 6)},
		},
	}
}

func coir(d dice, p *palette, s *soil) medium {
	own := hue(d.scaled(0.025, 0.11), d.between(1.4, 2), d.between(0.4, 0.65))
	m := s.matter(own)
	pith := p.kin(d, 12, m, 0.35)
	hairs := p.kin(d, 8, s.matter(hue(d.scaled(0.04, 0.16), d.between(1.4, 1.9), d.between(0.35, 0.6))), 0.5)
	m.own = m.own.times(0.8)
	return medium{
		floor: m, sunk: 0.25, grit: 0.03, waves: 1,
		parts: []part{
			{d.between(0.5, 1.2), 0.2, d.scaled(0.5, 2), pith, crumbs(0.4, 0.6)},
			{d.scaled(0.8, 8), 1.5, 12, hairs, fibres(0.04, 0.3, 3)},
			{d.between(0, 0.3), 1, 4, hairs, chips(0.35, 0.05)},
		},
	}
}

func bark(d dice, p *palette, s *soil) medium {
	own := hue(d.scaled(0.02, 0.1), d.between(1.3, 2.1), d.between(0.4, 0.7))
	m := s.matter(own)
	plates := p.kin(d, 14, m, 0.6)
	m.own = m.own.times(0.6)
	fines := p.kin(d, 10, m, 0.4)
	return medium{
		floor: m, sunk: 0.5, grit: 0.04, waves: 1,
		parts: []part{
			{0.5, 0.25, 1, fines, crumbs(0.4, 0.6)},
			{d.between(0.4, 1.2), 0.8, d.scaled(2.5, 8), plates, chips(d.between(0.3, 0.7), d.between(0.03, 0.1))},
			{0.2, 0.25, 0.9, plates, grains(0.5)},
			{d.scaled(0.05, 0.6), 1, 8, plates, fibres(0.05, 0.25, 3)},
		},
	}
}

func vermiculite(d dice, p *palette, s *soil) medium {
	own := hue(d.scaled(0.08, 0.3), d.between(1.2, 1.6), d.between(0.4, 0.7))
	m := s.matter(own)
	m.gloss, m.polish, m.rough = 0.05, 5, 0.4
	leaves := p.kin(d, 16, m, 0.5)
	m.own = m.own.times(0.4)
	dust := p.kin(d, 8, m, 0.5)
	return medium{
		floor: m, sunk: 0.6, grit: 0.04, waves: 1,
		parts: []part{
			{0.4, 0.25, 0.8, dust, crumbs(0.3, 0.6)},
			{d.between(0.9, 1.6), 0.8, d.scaled(1.8, 5), leaves, flakes},
		},
	}
}

func rockwool(d dice, p *palette, s *soil) medium {
	own := hue(d.between(0.16, 0.5), d.between(1, 1.2), d.between(0.6, 0.95))
	m := s.matter(own)
	m.wrap, m.own = 0.4, m.own.times(mix(1, 1.9, s.wet)) // wet felt stays pale
	threads := p.kin(d, 10, m, 0.22)
	m.own = m.own.times(0.75)
	clots := p.kin(d, 8, m, 0.25)
	return medium{
		floor: m, sunk: 0.12, grit: 0.02, waves: 0.6,
		parts: []part{
			{d.between(0.2, 0.6), 0.5, 4, clots, crumbs(0.4, 0.12)},
			{d.between(8, 16), 2, 7, threads, fibres(0.02, 0.06, 1)},
		},
	}
}

func sand(d dice, p *palette, s *soil) medium {
	own := hue(d.scaled(0.1, 0.35), d.between(1.02, 1.35), d.between(0.6, 0.95))
	m := s.matter(own)
	m.gloss = max(m.gloss, d.between(0, 0.02))
	m.polish, m.rough = 5, 0.2
	kin := p.kin(d, 20, m, 0.7)
	m.own = m.own.times(0.5)
	large := d.scaled(0.5, 3)
	return medium{
		floor: m, sunk: 0.2, grit: 0.03, waves: 0.7,
		parts: []part{
			{0.9, 0.25, large, kin, crumbs(0.12, 0.8)},
			{d.between(0.2, 0.8), 0.3, large, kin, grains(0.7)},
		},
	}
}

func loam(d dice, p *palette, s *soil) medium {
	own := hue(d.scaled(0.03, 0.16), d.between(1.15, 1.7), d.between(0.45, 0.8))
	m := s.matter(own)
	m.mottle = 0.15
	kin := p.kin(d, 12, m, 0.2)
	stones := p.kin(d, 8, s.matter(hue(d.between(0.1, 0.3), d.between(1, 1.2), d.between(0.75, 1))), 0.7)
	m.own = m.own.times(0.8)
	return medium{
		floor: m, sunk: d.between(0.1, 0.5), grit: d.between(0.01, 0.04), waves: 1.5,
		parts: []part{
			{d.between(0.5, 1.2), 0.25, d.scaled(0.8, 4), kin, crumbs(d.between(0.1, 0.35), 0.7)},
			{d.between(0, 0.15), 0.2, 1.5, stones, grains(0.6)},
		},
	}
}
