package ground

import (
	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/grid"
	"traygauge/vision/synth/herbarium/num"
)

// Tray is a grid of cells with what it is made of and filled with.
type Tray struct {
	grid.Grid
	own      closeup.RGB
	scuffed  float64
	gloss    float64
	rough    float64
	medium   medium
	dirt     float64 // share of the webs that crumbs cover
	grain    num.Plot
	blotches num.Plot
}

// trayOf draws a tray whose cells are pitch mm apart and which goes on past the drawing's borders.
func trayOf(d num.Dice, pitch, perMM float64, plain bool, side int) *Tray {
	t := &Tray{
		Grid: grid.Grid{PerMM: perMM, Middle: num.At(d.Between(0, float64(side)), d.Between(0, float64(side))), Pitch: pitch * perMM,
			Lo: [2]int{-grid.Endless, -grid.Endless}, Hi: [2]int{grid.Endless, grid.Endless}, Half: pitch * d.Between(0.36, 0.475),
			Rim: d.Between(1, 12), Wall: d.Wide(2, 9), Deep: d.Wide(0.6, 9)}, scuffed: d.Between(0.01, 0.12),
		gloss: d.Wide(0.01, 0.4), rough: d.Between(0.12, 0.5), medium: mediumOf(d), dirt: d.Some(0.6, 0, 0.2),
		grain: num.PlotOf(d, num.PerCell, d.Wide(0.5, 1.6)), blotches: num.PlotOf(d, num.PerWave, d.Wide(4, 20)),
	}
	t.Corner = t.Half * d.Between(0.08, 0.6)
	if d.Chance(0.25) {
		t.Corner = t.Half // round cells
	}
	t.own = trayColour(d, plain).Light()
	green, bare := d.Chance(0.48), d.Some(0.15, 0.02, 0.2)
	spread := d.Between(0, 0.4)
	for i := range t.Cells {
		t.Cells[i] = grid.CellKind{Level: t.Deep * spread * d.Between(-1, 1), Wet: d.Between(-0.25, 0.25), Turn: d.Angle(), Bare: d.Chance(bare)}
		if green {
			t.Cells[i].Green = d.Some(0.6, 0.1, 1)
		}
	}
	return t
}

func trayColour(d num.Dice, plain bool) num.LCH {
	kinds := []float64{0.5, 0.2, 0.06, 0.1, 0.08, 0.06}
	if plain {
		kinds = []float64{0.75, 0.25, 0, 0, 0, 0}
	}
	switch d.Pick(kinds...) {
	case 0:
		return num.LCH{L: d.Between(8, 22), C: d.Between(0, 3), H: 270} // black
	case 1:
		return num.LCH{L: d.Between(24, 52), C: d.Between(0, 4), H: 250} // grey
	case 2:
		return num.LCH{L: 34, C: 24, H: 150}.Scattered(d, 8, 8, 12)
	case 3:
		return num.LCH{L: 85, C: 3, H: 95}.Scattered(d, 5, 1, 20)
	case 4:
		return num.LCH{L: 48, C: 34, H: 48}.Scattered(d, 6, 6, 5) // terracotta
	default:
		return num.LCH{L: 40, C: 30, H: 265}.Scattered(d, 10, 8, 12)
	}
}
