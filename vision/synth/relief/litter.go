package relief

// litter returns what is found in any medium: mineral grains, charcoal, straw, bits of leaf, prills of fertilizer.
func litter(d dice, p *palette, s *soil) []part {
	var parts []part
	if d.chance(0.5) {
		m := s.matter(hue(d.scaled(0.1, 0.5), d.between(0.97, 1.2), d.between(0.7, 1)))
		m.gloss, m.polish, m.rough = 0.02, 5, 0.2
		parts = append(parts, part{d.scaled(0.003, 0.06), 0.15, 1, p.kin(d, 8, m, 0.5), grains(0.7)})
	}
	if d.chance(0.2) { // the finest of them: dust of perlite, quartz and chalk
		m := s.matter(hue(d.scaled(0.15, 0.8), d.between(0.97, 1.15), d.between(0.8, 1)))
		parts = append(parts, part{d.scaled(0.01, 0.15), 0.1, 0.4, p.kin(d, 6, m, 0.6), grains(0.6)})
	}
	if d.chance(0.15) {
		m := s.matter(hue(0.012, 1.02, 1))
		m.gloss, m.polish, m.rough = 0.03, 4, 0.3
		parts = append(parts, part{d.scaled(0.005, 0.08), 0.5, 4, p.kin(d, 6, m, 0.4), grains(0.6)})
	}
	if d.chance(0.3) {
		m := s.matter(hue(d.scaled(0.08, 0.35), d.between(1.25, 1.6), d.between(0.35, 0.6)))
		parts = append(parts, part{d.scaled(0.01, 0.12), 1.5, 7, p.kin(d, 6, m, 0.4), chips(d.between(0.08, 0.2), 0.06)})
	}
	if d.chance(0.2) {
		m := s.matter(hue(d.scaled(0.02, 0.15), d.between(0.9, 1.6), d.between(0.3, 0.6)))
		m.wrap = 0.3
		parts = append(parts, part{d.scaled(0.01, 0.08), 1.5, 6, p.kin(d, 6, m, 0.4), chips(d.between(0.4, 0.8), 0.04)})
	}
	if d.chance(0.06) {
		parts = append(parts, prills(d, p))
	}
	if d.chance(0.03) { // bits of a label
		m := material{own: rgb{d.scaled(0.1, 0.9), d.scaled(0.1, 0.9), d.scaled(0.1, 0.9)}, owner: ofPlug, gloss: 0.03, polish: 5, rough: 0.05, wrap: 0.2}
		parts = append(parts, part{d.scaled(0.003, 0.03), 0.8, 4, p.kin(d, 2, m, 0.05), chips(d.between(0.3, 0.9), 0)})
	}
	return parts
}

// prills are beads of slow-release fertilizer, coloured for sale.
func prills(d dice, p *palette) part {
	m := material{owner: ofPlug, mottle: 0.05, gloss: 0.03, polish: 5, rough: 0.08, wrap: 0.3}
	var kin []uint16
	for range d.count(1, 3) {
		m.own = hue(d.between(0.1, 0.5), d.scaled(0.4, 2.5), d.scaled(0.2, 1.5))
		kin = append(kin, p.kin(d, 2, m, 0.1)...)
	}
	return part{d.scaled(0.005, 0.08), 1.5, 3.2, kin, func(h *heap, p *part, size float32) {
		x, y, z := h.spot(size)
		r := size / 2
		h.crumb(crumb{x, y, z - float32(r*h.between(0, 0.9)), r, r * h.between(0.92, 1), r, 1, 0, 0, 0.004, h.one(p.kin)}, h.seed)
	}}
}

// layPerlite lays so many pale porous lumps, some of them angular, some stained. Those laid over roots lie higher by so many mm.
func (h *heap) layPerlite(number int, large, stain, over float32) {
	if len(h.inside) == 0 || number == 0 {
		return
	}
	white := material{own: hue(h.between(0.5, 0.85), h.between(0.99, 1.06), h.between(0.88, 1)), owner: ofPlug, mottle: 0.06, coarse: true, wrap: 0.35}
	if h.chance(0.3) {
		white.gloss, white.polish, white.rough = 0.02, 4, 0.3
	}
	clean := h.kin(h.dice, 6, white, 0.12)
	white.own = white.own.through(rgb{1, 0.84, 0.6}).times(h.between(0.3, 0.8))
	stained := h.kin(h.dice, 4, white, 0.3)
	for range number {
		kin := clean
		if h.chance(stain) {
			kin = stained
		}
		h.perliteGrain(kin, h.scaled(0.4, large), over)
	}
}

func (h *heap) perliteGrain(kin []uint16, size, over float32) {
	x, y, z := h.spot(size)
	z += over - float32(size*h.between(0.1, 0.45))
	solid := h.one(kin)
	if h.chance(0.25) {
		tall := size * h.between(0.5, 0.9)
		h.facet(facet{x, y, z - float32(tall*0.3), size / 2, tall, h.cuts(h.count(5, 8), size/2), 0.03, solid}, h.seed)
		return
	}
	pore := (*h.palette)[solid]
	pore.own = pore.own.times(0.75)
	h.lump(lump{h.bulges(x, y, z, size/2, h.count(3, 7)), 0.05 + float32(0.04*size), 0.02, solid, h.add(pore)}, h.seed)
}
