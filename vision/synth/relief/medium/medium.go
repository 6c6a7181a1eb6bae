// Package medium is what plugs are made of and what lies on them: peat, coir, bark and the like as heaps of solids, litter and perlite,
// algae, moss and salt, water, and things from outside over all. In go the plugs' depth and surface as slow quantities; it lays solids into
// the height map and returns only materials and the heap. It knows nothing of tray, roots and light: how high roots lie it asks by a function.
package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Medium is what a plug is made of.
type Medium struct {
	parts []part
	Floor solids.Material
	Sunk  float32 // mm by which the floor lies below the heap's tops
	Grit  float32 // mm of the floor's roughness
	Waves float32 // shares the plug's surface waves
}

// Soil is how wet and how dark a drawing's medium is.
type Soil struct {
	Wet   float32 // 0 for dusty dry to 1 for dripping
	glint float32 // how strongly wet medium glints, 0 to 1
	dust  num.RGB // what lies on dry medium
}

// NewSoil draws how wet a drawing's medium is.
func NewSoil(d num.Dice) Soil {
	return Soil{Wet: d.Float32(), glint: d.Float32(), dust: num.Hue(d.Between(0.1, 0.3), d.Between(1.05, 1.3), d.Between(0.65, 0.9))}
}

// matter returns the material of a particle of the given own colour when dry: water darkens it and makes it glint.
func (s *Soil) matter(own num.RGB) solids.Material {
	dark := num.Mix(1, 0.35, s.Wet)
	if s.Wet < 0.3 {
		own = own.Toward(s.dust, 0.35*(1-s.Wet/0.3))
	}
	m := solids.Material{Own: own.Times(dark), Owner: solids.OfPlug, Mottle: num.Mix(0.25, 0.4, s.Wet), Wrap: 0.12}
	if s.Wet > 0.35 {
		m.Gloss, m.Rough = 0.1*(s.Wet-0.35)*s.glint, num.Mix(0.5, 0.25, s.Wet)
		m.Polish = 4 + int(3.5*s.Wet)
	}
	return m
}

// NewMedium draws a medium: dark peat in every other drawing, coir in every fifth.
func NewMedium(d num.Dice, p *solids.Palette, s *Soil) Medium {
	kinds := []func(num.Dice, *solids.Palette, *Soil) Medium{peat, coir, bark, vermiculite, rockwool, sand, loam}
	m := kinds[d.Pick(0.5, 0.2, 0.07, 0.04, 0.05, 0.05, 0.09)](d, p, s)
	if d.Chance(0.15) { // a mixture
		other := kinds[d.Pick(0.3, 0.2, 0.2, 0.2, 0, 0.2, 0.1)](d, p, s)
		share := d.Between(0.1, 0.6)
		for _, part := range other.parts {
			part.cover *= share
			m.parts = append(m.parts, part)
		}
	}
	m.parts = append(m.parts, litter(d, p, s, m.Floor.Own)...)
	return m
}

// earth is a brown of the given luminance.
func earth(d num.Dice, luminance float32) num.RGB {
	return num.Hue(luminance, d.Between(1.12, 1.75), d.Between(0.45, 0.85))
}

func peat(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := earth(d, d.Scaled(0.012, 0.075))
	m := s.matter(own)
	body := p.Kin(d, 14, m, 0.4)
	pale := p.Kin(d, 6, s.matter(own.Times(d.Between(1.6, 3))), 0.4)
	large := d.Scaled(0.5, 4)
	threads := p.Kin(d, 6, s.matter(earth(d, d.Between(0.04, 0.14))), 0.4)
	m.Own = m.Own.Times(0.8)
	felt := d.Scaled(0.02, 1.2)
	if d.Chance(0.2) {
		felt = d.Scaled(1.2, 7)
	}
	return Medium{
		Floor: m, Sunk: 0.15 * large, Grit: d.Between(0.02, 0.05), Waves: 1,
		parts: []part{
			{d.Between(0.5, 1.4), 0.22, large, body, crumbs(d.Between(0.15, 0.5), d.Between(0.4, 0.9))},
			{d.Between(0, 0.12), 0.15, 0.8, pale, crumbs(0.3, 0.5)},
			{felt, 1.2, 9, threads, fibres(0.03, 0.16, 6)},
		},
	}
}

func coir(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Scaled(0.025, 0.11), d.Between(1.4, 2), d.Between(0.4, 0.65))
	m := s.matter(own)
	pith := p.Kin(d, 12, m, 0.35)
	hairs := p.Kin(d, 8, s.matter(num.Hue(d.Scaled(0.04, 0.16), d.Between(1.4, 1.9), d.Between(0.35, 0.6))), 0.5)
	m.Own = m.Own.Times(0.8)
	return Medium{
		Floor: m, Sunk: 0.25, Grit: 0.03, Waves: 1,
		parts: []part{
			{d.Between(0.5, 1.2), 0.2, d.Scaled(0.5, 2), pith, crumbs(0.4, 0.6)},
			{d.Scaled(0.8, 8), 1.5, 12, hairs, fibres(0.04, 0.3, 3)},
			{d.Between(0, 0.3), 1, 4, hairs, chips(0.35, 0.05)},
		},
	}
}

func bark(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Scaled(0.02, 0.1), d.Between(1.3, 2.1), d.Between(0.4, 0.7))
	m := s.matter(own)
	plates := p.Kin(d, 14, m, 0.6)
	m.Own = m.Own.Times(0.6)
	fines := p.Kin(d, 10, m, 0.4)
	return Medium{
		Floor: m, Sunk: 0.5, Grit: 0.04, Waves: 1,
		parts: []part{
			{0.5, 0.25, 1, fines, crumbs(0.4, 0.6)},
			{d.Between(0.4, 1.2), 0.8, d.Scaled(2.5, 8), plates, chips(d.Between(0.3, 0.7), d.Between(0.03, 0.1))},
			{0.2, 0.25, 0.9, plates, grains(0.5)},
			{d.Scaled(0.05, 0.6), 1, 8, plates, fibres(0.05, 0.25, 3)},
		},
	}
}

func vermiculite(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Scaled(0.08, 0.3), d.Between(1.2, 1.6), d.Between(0.4, 0.7))
	m := s.matter(own)
	m.Gloss, m.Polish, m.Rough = 0.05, 5, 0.4
	leaves := p.Kin(d, 16, m, 0.5)
	m.Own = m.Own.Times(0.4)
	dust := p.Kin(d, 8, m, 0.5)
	return Medium{
		Floor: m, Sunk: 0.6, Grit: 0.04, Waves: 1,
		parts: []part{
			{0.4, 0.25, 0.8, dust, crumbs(0.3, 0.6)},
			{d.Between(0.9, 1.6), 0.8, d.Scaled(1.8, 5), leaves, flakes},
		},
	}
}

func rockwool(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Between(0.16, 0.5), d.Between(1, 1.2), d.Between(0.6, 0.95))
	m := s.matter(own)
	m.Wrap, m.Own = 0.4, m.Own.Times(num.Mix(1, 1.9, s.Wet)) // wet felt stays pale
	threads := p.Kin(d, 10, m, 0.22)
	m.Own = m.Own.Times(0.75)
	clots := p.Kin(d, 8, m, 0.25)
	return Medium{
		Floor: m, Sunk: 0.12, Grit: 0.02, Waves: 0.6,
		parts: []part{
			{d.Between(0.2, 0.6), 0.5, 4, clots, crumbs(0.4, 0.12)},
			{d.Between(8, 16), 2, 7, threads, fibres(0.02, 0.06, 1)},
		},
	}
}

func sand(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Scaled(0.1, 0.35), d.Between(1.02, 1.35), d.Between(0.6, 0.95))
	m := s.matter(own)
	m.Gloss = max(m.Gloss, d.Between(0, 0.02))
	m.Polish, m.Rough = 5, 0.2
	kin := p.Kin(d, 20, m, 0.7)
	m.Own = m.Own.Times(0.5)
	large := d.Scaled(0.5, 3)
	return Medium{
		Floor: m, Sunk: 0.2, Grit: 0.03, Waves: 0.7,
		parts: []part{
			{0.9, 0.25, large, kin, crumbs(0.12, 0.8)},
			{d.Between(0.2, 0.8), 0.3, large, kin, grains(0.7)},
		},
	}
}

func loam(d num.Dice, p *solids.Palette, s *Soil) Medium {
	own := num.Hue(d.Scaled(0.03, 0.16), d.Between(1.15, 1.7), d.Between(0.45, 0.8))
	m := s.matter(own)
	m.Mottle = 0.15
	kin := p.Kin(d, 12, m, 0.2)
	stones := p.Kin(d, 8, s.matter(num.Hue(d.Between(0.1, 0.3), d.Between(1, 1.2), d.Between(0.75, 1))), 0.7)
	m.Own = m.Own.Times(0.8)
	return Medium{
		Floor: m, Sunk: d.Between(0.1, 0.5), Grit: d.Between(0.01, 0.04), Waves: 1.5,
		parts: []part{
			{d.Between(0.5, 1.2), 0.25, d.Scaled(0.8, 4), kin, crumbs(d.Between(0.1, 0.35), 0.7)},
			{d.Between(0, 0.15), 0.2, 1.5, stones, grains(0.6)},
		},
	}
}
