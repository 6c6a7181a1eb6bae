package ground

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/grid"
	"traygauge/vision/synth/herbarium/num"
)

// medium is what fills the cells. Lengths in mm.
type medium struct {
	dark, mid, light closeup.RGB
	coarse, fine     num.Plot
	clump            num.Plot
	lumpy, gritty    float64 // mm that coarse and fine grains stand out
	even             float64 // share by which grains differ less in colour
	wet              float64 // 0 dry to 1 wet
	white            float64 // share of the coarse cells with a perlite grain
	whites           num.Plot
	whiteColour      closeup.RGB
	flake            float64 // share of cells with a vermiculite flake
	flakeColour      closeup.RGB
	fibres           float64 // fibres for each square centimetre
	fibre            closeup.RGB
	chips            float64 // bark chips for each square centimetre
	film, moss       closeup.RGB
	mossy            bool
	crumbs, specks   float64 // how much of the medium's own light and dark shows through films, and how far single crumbs are green or bare
	filmPlot         num.Plot
}

// mediumOf draws a medium.
func mediumOf(d num.Dice) medium {
	m := medium{
		coarse: num.PlotOf(d, num.PerCell, d.Wide(1.6, 5)), fine: num.PlotOf(d, num.PerCell, d.Wide(0.4, 1.1)), clump: num.PlotOf(d, num.PerWave, d.Wide(3, 12)),
		lumpy: d.Wide(0.1, 0.9), gritty: d.Wide(0.04, 0.22), even: d.Between(0, 0.6), wet: d.Between(0, 1),
		white: d.Some(0.55, 0.01, 0.3), whites: num.PlotOf(d, num.PerCell, d.Wide(1.5, 4)), whiteColour: num.LCH{L: 82, C: 4, H: 90}.Scattered(d, 6, 2, 20).Light(),
		flakeColour: num.LCH{L: 58, C: 26, H: 80}.Scattered(d, 7, 6, 6).Light(), fibres: d.Some(0.6, 0.2, 3),
		fibre: num.LCH{L: 50, C: 24, H: 72}.Scattered(d, 10, 6, 6).Light(), film: num.LCH{L: 40, C: 34, H: 124}.Scattered(d, 8, 11, 9).Light(),
		moss: num.LCH{L: 46, C: 38, H: 118}.Scattered(d, 8, 8, 6).Light(), mossy: d.Chance(0.28), filmPlot: num.PlotOf(d, num.PerWave, d.Wide(3, 16)),
	}
	var mid num.LCH
	switch d.Pick(0.42, 0.2, 0.1, 0.08, 0.08, 0.06, 0.06) {
	case 0: // peat
		mid = num.LCH{L: 24, C: 11, H: 65}.Scattered(d, 5, 3, 6)
	case 1: // coir
		mid = num.LCH{L: 36, C: 20, H: 66}.Scattered(d, 5, 4, 4)
		m.fibres = d.Between(1, 8)
	case 2: // composted bark
		mid = num.LCH{L: 28, C: 15, H: 56}.Scattered(d, 5, 4, 6)
		m.chips = d.Between(0.3, 3)
	case 3: // vermiculite
		mid = num.LCH{L: 40, C: 16, H: 76}.Scattered(d, 6, 4, 5)
		m.flake = d.Between(0.15, 0.6)
	case 4: // mineral wool
		mid = num.LCH{L: 56, C: 14, H: 92}.Scattered(d, 8, 5, 8)
		m.lumpy, m.gritty, m.even, m.white, m.fibres = 0.1*m.lumpy, 0.03, 0.7, 0, d.Between(4, 12)
		m.fibre = num.LCH{L: 66, C: 12, H: 92}.Scattered(d, 6, 3, 5).Light()
	case 5: // sand
		mid = num.LCH{L: 60, C: 13, H: 78}.Scattered(d, 8, 4, 6)
		m.lumpy, m.even, m.white = 0.2*m.lumpy, 0.1, 0
	default: // dark compost
		mid = num.LCH{L: 15, C: 6, H: 60}.Scattered(d, 3, 2, 10)
	}
	mid.L *= 1 - 0.3*m.wet
	m.mid = mid.Light()
	if d.Chance(0.6) {
		m.crumbs, m.specks = d.Between(0.2, 1.1), d.Between(0, 0.9)
	}
	if !m.mossy && d.Chance(0.35) { // a stain of a leaf's own green that follows the crumbs
		m.film, m.crumbs = num.LCH{L: d.Between(26, 58), C: d.Between(22, 46), H: d.Between(108, 132)}.Light(), d.Between(0.5, 1.3)
	}
	m.dark = num.LCH{L: mid.L * 0.45, C: mid.C * 0.7, H: mid.H}.Light()
	m.light = num.LCH{L: mid.L + d.Between(6, 26), C: mid.C * 1.1, H: mid.H + 3}.Light()
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
func (m *medium) at(x, y float64, k *grid.CellKind) soil {
	n := num.Tables()
	u, v := m.coarse.On(x, y)
	far, _, kind := n.Cells.At(u, v)
	u, v = m.fine.On(x, y)
	farFine, _, kindFine := n.Cells.At(u, v)
	clump := m.clump.In(&n.Rich, x, y)
	s := soil{z: m.lumpy*(kind*(1-far*far)+0.5*clump) + m.gritty*(1-farFine*farFine)*(0.4+kindFine), sun: 1, open: 1, rough: 0.3}
	tone := (1-m.even)*(0.55*kindFine+0.35*kind) + m.even*0.45 + 0.25*clump
	if tone < 0.5 {
		s.own = num.Blend(m.dark, m.mid, float32(max(0, 2*tone)))
	} else {
		s.own = num.Blend(m.mid, m.light, float32(min(1, 2*tone-1)))
	}
	wet := num.Clamp(m.wet+k.Wet, 0, 1)
	s.own = num.Scaled(s.own, float32(1-0.3*k.Wet-0.35*(1-kindFine)*far))
	s.gloss = 0.25 * wet * wet * kindFine
	m.grains(&s, x, y, kindFine)
	if k.Green > 0 {
		m.greens(&s, x, y, k, farFine, kindFine)
	}
	return s
}

// grains lays perlite and vermiculite.
func (m *medium) grains(s *soil, x, y, kindFine float64) {
	if m.white == 0 && m.flake == 0 {
		return
	}
	far, _, kind := num.Tables().Cells.At(m.whites.On(x, y))
	if kind >= m.white+m.flake {
		return
	}
	far += 0.06 * (kindFine - 0.5)
	size := 0.14 + 0.3*kind/(m.white+m.flake)
	share := 1 - num.Ease(size-0.06, size+0.02, far)
	if share == 0 {
		return
	}
	colour := m.whiteColour
	if kind >= m.white {
		colour = m.flakeColour
		s.gloss = max(s.gloss, 0.3*share)
	}
	s.own = num.Blend(s.own, num.Scaled(colour, float32(0.8+0.2*kindFine)), float32(share))
	s.z += share * 0.6 * (1 - far*far/(size*size+0.01)*0.5)
}

// greens lays algae and moss.
func (m *medium) greens(s *soil, x, y float64, k *grid.CellKind, farFine, kindFine float64) {
	cover := num.Ease(0.75-1.2*k.Green, 1.15-1.2*k.Green, m.filmPlot.In(&num.Tables().Rich, x+20*k.Turn, y)+m.specks*(kindFine-0.5))
	if cover == 0 {
		return
	}
	if m.mossy {
		s.own = num.Blend(s.own, num.Scaled(m.moss, float32(1.15-0.7*farFine)), float32(0.95*cover))
		s.z += cover * (0.8 - 0.7*farFine)
		s.gloss *= 1 - cover
		return
	}
	shade := math.Pow(lightOf(s.own)/lightOf(m.mid), m.crumbs)
	s.own = num.Blend(s.own, num.Scaled(m.film, float32(num.Clamp(shade, 0.3, 2.2))), float32(0.8*cover))
	s.gloss = max(s.gloss, 0.12*cover)
}

// lightOf is how light a colour is.
func lightOf(c closeup.RGB) float64 { return float64(c[0]+c[1]+c[2])/3 + 0.001 }
