package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// litter returns what is found in any medium: mineral grains, charcoal, straw, bits of leaf, strands, prills of fertilizer. ground is the medium's own colour.
func litter(d num.Dice, p *solids.Palette, s *Soil, ground num.RGB) []part {
	var parts []part
	if d.Chance(0.5) {
		m := s.matter(num.Hue(d.Scaled(0.1, 0.5), d.Between(0.97, 1.2), d.Between(0.7, 1)))
		m.Gloss, m.Polish, m.Rough = 0.02, 5, 0.2
		parts = append(parts, part{d.Scaled(0.003, 0.06), 0.15, 1, p.Kin(d, 8, m, 0.5), grains(0.7)})
	}
	if d.Chance(0.2) { // the finest of them: dust of perlite, quartz and chalk
		m := s.matter(num.Hue(d.Scaled(0.15, 0.8), d.Between(0.97, 1.15), d.Between(0.8, 1)))
		parts = append(parts, part{d.Scaled(0.01, 0.15), 0.1, 0.4, p.Kin(d, 6, m, 0.6), grains(0.6)})
	}
	if d.Chance(0.15) {
		m := s.matter(num.Hue(0.012, 1.02, 1))
		m.Gloss, m.Polish, m.Rough = 0.03, 4, 0.3
		parts = append(parts, part{d.Scaled(0.005, 0.08), 0.5, 4, p.Kin(d, 6, m, 0.4), grains(0.6)})
	}
	if d.Chance(0.3) {
		m := s.matter(num.Hue(d.Scaled(0.08, 0.35), d.Between(1.25, 1.6), d.Between(0.35, 0.6)))
		parts = append(parts, part{d.Scaled(0.01, 0.12), 1.5, 7, p.Kin(d, 6, m, 0.4), chips(d.Between(0.08, 0.2), 0.06)})
	}
	if d.Chance(0.2) {
		m := s.matter(num.Hue(d.Scaled(0.02, 0.15), d.Between(0.9, 1.6), d.Between(0.3, 0.6)))
		m.Wrap = 0.3
		parts = append(parts, part{d.Scaled(0.01, 0.08), 1.5, 6, p.Kin(d, 6, m, 0.4), chips(d.Between(0.4, 0.8), 0.04)})
	}
	if d.Chance(0.3) { // soft strands of coir and of dead plants, which are taken for brown roots most easily
		m := s.matter(num.Hue(d.Scaled(0.04, 0.22), d.Between(1.25, 1.9), d.Between(0.35, 0.65)))
		parts = append(parts, part{d.Scaled(0.3, 4), 2, 14, p.Kin(d, 8, m, 0.4), fibres(0.06, d.Between(0.12, 0.35), 2)})
	}
	if d.Chance(0.4) {
		parts = append(parts, strands(d, p, ground))
	}
	if d.Chance(0.06) {
		parts = append(parts, prills(d, p))
	}
	if d.Chance(0.03) { // bits of a label
		m := solids.Material{Own: num.RGB{R: d.Scaled(0.1, 0.9), G: d.Scaled(0.1, 0.9), B: d.Scaled(0.1, 0.9)}, Owner: solids.OfPlug,
			Gloss: 0.03, Polish: 5, Rough: 0.05, Wrap: 0.2}
		parts = append(parts, part{d.Scaled(0.003, 0.03), 0.8, 4, p.Kin(d, 2, m, 0.05), chips(d.Between(0.3, 0.9), 0)})
	}
	return parts
}

// strands lie on top and are seen one by one, as in coarse coir; darker than brown roots as a rule, not always.
func strands(d num.Dice, p *solids.Palette, ground num.RGB) part {
	m := solids.Material{Own: num.Hue(min(0.3, ground.Luminance()*d.Scaled(0.8, 2.4)), d.Between(1.2, 1.95), d.Between(0.3, 0.75)),
		Owner: solids.OfPlug, Mottle: 0.2, Wrap: 0.12}
	thin := d.Scaled(0.06, 0.16)
	return part{d.Scaled(1, 12), d.Scaled(1, 4), d.Scaled(6, 22), p.Kin(d, 8, m, 0.5), func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.Facing()
		half := h.Scaled(thin, 2.5*thin) / 2
		h.Strand(h.Dice, solids.Strand{X: x, Y: y, Z: z + float32(half*h.Between(0, 3)), AlongX: ax, AlongY: ay, Long: size, Half: half,
			Kinks: h.Count(0, 1), Sweep: h.Scaled(0.02, 0.25), Climb: 0.25, Solid: h.One(p.kin)})
	}}
}

// prills are beads of slow-release fertilizer, coloured for sale.
func prills(d num.Dice, p *solids.Palette) part {
	m := solids.Material{Owner: solids.OfPlug, Mottle: 0.05, Gloss: 0.03, Polish: 5, Rough: 0.08, Wrap: 0.3}
	var kin []uint16
	for range d.Count(1, 3) {
		m.Own = num.Hue(d.Between(0.1, 0.5), d.Scaled(0.4, 2.5), d.Scaled(0.2, 1.5))
		kin = append(kin, p.Kin(d, 2, m, 0.1)...)
	}
	return part{d.Scaled(0.005, 0.08), 1.5, 3.2, kin, func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		r := size / 2
		h.Crumb(solids.Crumb{X: x, Y: y, Z: z - float32(r*h.Between(0, 0.9)), Long: r, Short: r * h.Between(0.92, 1), High: r, AlongX: 1,
			AlongY: 0, Rough: 0, Bump: 0.004, Solid: h.One(p.kin)}, h.seed)
	}}
}

// LayPerlite lays so many pale porous lumps, some of them angular, some stained. Those laid over roots lie higher by so many mm.
func (h *Heap) LayPerlite(number int, large, stain, over float32) {
	if len(h.inside) == 0 || number == 0 {
		return
	}
	white := solids.Material{Own: num.Hue(h.Between(0.5, 0.85), h.Between(0.99, 1.06), h.Between(0.88, 1)), Owner: solids.OfPlug,
		Mottle: 0.06, Coarse: true, Wrap: 0.35}
	if h.Chance(0.3) {
		white.Gloss, white.Polish, white.Rough = 0.02, 4, 0.3
	}
	clean := h.Kin(h.Dice, 6, white, 0.12)
	white.Own = white.Own.Through(num.RGB{R: 1, G: 0.84, B: 0.6}).Times(h.Between(0.3, 0.8))
	stained := h.Kin(h.Dice, 4, white, 0.3)
	for range number {
		kin := clean
		if h.Chance(stain) {
			kin = stained
		}
		h.perliteGrain(kin, h.Scaled(0.4, large), over)
	}
}

func (h *Heap) perliteGrain(kin []uint16, size, over float32) {
	x, y, z := h.spot(size)
	z += over - float32(size*h.Between(0.1, 0.45))
	solid := h.One(kin)
	if h.Chance(0.25) {
		tall := size * h.Between(0.5, 0.9)
		h.Facet(solids.Facet{X: x, Y: y, Z: z - float32(tall*0.3), Size: size / 2, High: tall, Sides: solids.NewCuts(h.Dice, h.Count(5, 8),
			size/2), Bump: 0.03, Solid: solid}, h.seed)
		return
	}
	pore := (*h.Palette)[solid]
	pore.Own = pore.Own.Times(0.75)
	h.Lump(solids.Lump{Bulges: solids.NewBulges(h.Dice, x, y, z, size/2, h.Count(3, 7)), Pores: 0.05 + float32(0.04*size), Bump: 0.02,
		Solid: solid, Pore: h.Add(pore)}, h.seed)
}
