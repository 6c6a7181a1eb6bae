package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// medium is what fills the cells. Lengths in mm.
type medium struct {
	dark, mid, light closeup.RGB
	coarse, fine     plot
	clump            plot
	lumpy, gritty    float64 // mm that coarse and fine grains stand out
	even             float64 // share by which grains differ less in colour
	wet              float64 // 0 dry to 1 wet
	white            float64 // share of the coarse cells with a perlite grain
	whites           plot
	whiteColour      closeup.RGB
	flake            float64 // share of cells with a vermiculite flake
	flakeColour      closeup.RGB
	fibres           float64 // fibres for each square centimetre
	fibre            closeup.RGB
	chips            float64 // bark chips for each square centimetre
	film, moss       closeup.RGB
	mossy            bool
	crumbs, specks   float64 // how much of the medium's own light and dark shows through films, and how far single crumbs are green or bare
	filmPlot         plot
}

// mediumOf draws a medium.
func mediumOf(d dice) medium {
	m := medium{
		coarse: plotOf(d, perCell, d.wide(1.6, 5)), fine: plotOf(d, perCell, d.wide(0.4, 1.1)), clump: plotOf(d, perWave, d.wide(3, 12)),
		lumpy: d.wide(0.1, 0.9), gritty: d.wide(0.04, 0.22), even: d.between(0, 0.6), wet: d.between(0, 1),
		white: d.some(0.55, 0.01, 0.3), whites: plotOf(d, perCell, d.wide(1.5, 4)), whiteColour: lch{82, 4, 90}.scattered(d, 6, 2, 20).light(),
		flakeColour: lch{58, 26, 80}.scattered(d, 7, 6, 6).light(), fibres: d.some(0.6, 0.2, 3),
		fibre: lch{50, 24, 72}.scattered(d, 10, 6, 6).light(), film: lch{40, 34, 124}.scattered(d, 8, 11, 9).light(),
		moss: lch{46, 38, 118}.scattered(d, 8, 8, 6).light(), mossy: d.chance(0.28), filmPlot: plotOf(d, perWave, d.wide(3, 16)),
	}
	var mid lch
	switch d.pick(0.42, 0.2, 0.1, 0.08, 0.08, 0.06, 0.06) {
	case 0: // peat
		mid = lch{24, 11, 65}.scattered(d, 5, 3, 6)
	case 1: // coir
		mid = lch{36, 20, 66}.scattered(d, 5, 4, 4)
		m.fibres = d.between(1, 8)
	case 2: // composted bark
		mid = lch{28, 15, 56}.scattered(d, 5, 4, 6)
		m.chips = d.between(0.3, 3)
	case 3: // vermiculite
		mid = lch{40, 16, 76}.scattered(d, 6, 4, 5)
		m.flake = d.between(0.15, 0.6)
	case 4: // mineral wool
		mid = lch{56, 14, 92}.scattered(d, 8, 5, 8)
		m.lumpy, m.gritty, m.even, m.white, m.fibres = 0.1*m.lumpy, 0.03, 0.7, 0, d.between(4, 12)
		m.fibre = lch{66, 12, 92}.scattered(d, 6, 3, 5).light()
	case 5: // sand
		mid = lch{60, 13, 78}.scattered(d, 8, 4, 6)
		m.lumpy, m.even, m.white = 0.2*m.lumpy, 0.1, 0
	default: // dark compost
		mid = lch{15, 6, 60}.scattered(d, 3, 2, 10)
	}
	mid.l *= 1 - 0.3*m.wet
	m.mid = mid.light()
	if d.chance(0.6) {
		m.crumbs, m.specks = d.between(0.2, 1.1), d.between(0, 0.9)
	}
	if !m.mossy && d.chance(0.35) { // a stain of a leaf's own green that follows the crumbs
		m.film, m.crumbs = lch{d.between(26, 58), d.between(22, 46), d.between(108, 132)}.light(), d.between(0.5, 1.3)
	}
	m.dark = lch{mid.l * 0.45, mid.c * 0.7, mid.h}.light()
	m.light = lch{mid.l + d.between(6, 26), mid.c * 1.1, mid.h + 3}.light()
	return m
}

// soil is what a texel of the ground is.
type soil struct {
	own   closeup.RGB
	z     float64 // mm
	gloss float64
	rough float64
	sun   float64 // share of the lamp that it sees
	open  float64 // share of the sky that it sees
}

// at returns the medium at a place, in mm, of a cell.
func (m *medium) at(x, y float64, k *cellKind) soil {
	n := tables()
	u, v := m.coarse.on(x, y)
	far, _, kind := n.cells.at(u, v)
	u, v = m.fine.on(x, y)
	farFine, _, kindFine := n.cells.at(u, v)
	clump := m.clump.in(&n.rich, x, y)
	s := soil{z: m.lumpy*(kind*(1-far*far)+0.5*clump) + m.gritty*(1-farFine*farFine)*(0.4+kindFine), sun: 1, open: 1, rough: 0.3}
	tone := (1-m.even)*(0.55*kindFine+0.35*kind) + m.even*0.45 + 0.25*clump
	if tone < 0.5 {
		s.own = blend(m.dark, m.mid, float32(max(0, 2*tone)))
	} else {
		s.own = blend(m.mid, m.light, float32(min(1, 2*tone-1)))
	}
	wet := clamp(m.wet+k.wet, 0, 1)
	s.own = scaled(s.own, float32(1-0.3*k.wet-0.35*(1-kindFine)*far))
	s.gloss = 0.25 * wet * wet * kindFine
	m.grains(&s, x, y, kindFine)
	if k.green > 0 {
		m.greens(&s, x, y, k, farFine, kindFine)
	}
	return s
}

// grains lays perlite and vermiculite.
func (m *medium) grains(s *soil, x, y, kindFine float64) {
	if m.white == 0 && m.flake == 0 {
		return
	}
	far, _, kind := tables().cells.at(m.whites.on(x, y))
	if kind >= m.white+m.flake {
		return
	}
	far += 0.06 * (kindFine - 0.5)
	size := 0.14 + 0.3*kind/(m.white+m.flake)
	share := 1 - ease(size-0.06, size+0.02, far)
	if share == 0 {
		return
	}
	colour := m.whiteColour
	if kind >= m.white {
		colour = m.flakeColour
		s.gloss = max(s.gloss, 0.3*share)
	}
	s.own = blend(s.own, scaled(colour, float32(0.8+0.2*kindFine)), float32(share))
	s.z += share * 0.6 * (1 - far*far/(size*size+0.01)*0.5)
}

// greens lays algae and moss.
func (m *medium) greens(s *soil, x, y float64, k *cellKind, farFine, kindFine float64) {
	cover := ease(0.75-1.2*k.green, 1.15-1.2*k.green, m.filmPlot.in(&tables().rich, x+20*k.turn, y)+m.specks*(kindFine-0.5))
	if cover == 0 {
		return
	}
	if m.mossy {
		s.own = blend(s.own, scaled(m.moss, float32(1.15-0.7*farFine)), float32(0.95*cover))
		s.z += cover * (0.8 - 0.7*farFine)
		s.gloss *= 1 - cover
		return
	}
	shade := math.Pow(lightOf(s.own)/lightOf(m.mid), m.crumbs)
	s.own = blend(s.own, scaled(m.film, float32(clamp(shade, 0.3, 2.2))), float32(0.8*cover))
	s.gloss = max(s.gloss, 0.12*cover)
}

// lightOf is how light a colour is.
func lightOf(c closeup.RGB) float64 { return float64(c[0]+c[1]+c[2])/3 + 0.001 }
