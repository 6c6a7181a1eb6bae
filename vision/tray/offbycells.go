package tray

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A grid that was fitted to cells lies on cells, but it may lie whole cells off: then the outermost row on one side lies on the bench, and beyond the one on
// the other side there is a row of cells more. A cell is told by what FitGrid goes by, the warmth in it less that of the webs about it.
const (
	stillCells = 0.5  // of the tray's usual cell: so much is a row of cells
	noCells    = 0.25 // and so little is none
	webHalf    = 0.06 // half the side of a place on a web, in pitches
	placeStep  = 2.0  // mm
)

// OffByCells returns by how many columns and rows, -1, 0 or 1 each, the tray lies beyond the grid; a 1 may be more.
func OffByCells(s *scene.Scene, t Layout, g Grid) (columns, rows int) {
	if !g.Fitted || t.Rows < 2 || t.Columns < 2 {
		return 0, 0
	}
	o := overviewOf(s, t)
	mean := func(row0, row1, col0, col1 int) float64 {
		var all []float64
		for r := row0; r <= row1; r++ {
			for c := col0; c <= col1; c++ {
				if v, ok := o.cellness(t, g, r, c); ok {
					all = append(all, v)
				}
			}
		}
		if 2*len(all) <= (row1-row0+1)*(col1-col0+1) {
			return math.NaN()
		}
		return raster.Median(all)
	}
	lastRow, lastCol := t.Rows-1, t.Columns-1
	usual := mean(0, lastRow, 0, lastCol)
	moved := func(gained, lost float64) bool { // what is lost may be beyond the photo
		return gained > stillCells*usual && !(lost >= noCells*usual)
	}
	switch {
	case moved(mean(0, lastRow, t.Columns, t.Columns), mean(0, lastRow, 0, 0)):
		columns = 1
	case moved(mean(0, lastRow, -1, -1), mean(0, lastRow, lastCol, lastCol)):
		columns = -1
	}
	switch {
	case moved(mean(t.Rows, t.Rows, 0, lastCol), mean(0, 0, 0, lastCol)):
		rows = 1
	case moved(mean(-1, -1, 0, lastCol), mean(lastRow, lastRow, 0, lastCol)):
		rows = -1
	}
	return columns, rows
}

// cellness is how much warmer a cell's middle is than half-way to its four neighbours; ok is false where that is not in the photo.
func (o overview) cellness(t Layout, g Grid, row, col int) (more float64, ok bool) {
	u, v := t.Centre(row, col)
	mean := func(u, v, half float64) float64 {
		sum, n := 0.0, 0
		for dv := -half; dv <= half; dv += placeStep {
			for du := -half; du <= half; du += placeStep {
				gu, gv := g.Place(t, u+du, v+dv)
				if c, in := o.light(gu, gv); in {
					sum, n = sum+float64(warmth(c[0], c[1], c[2])), n+1
				}
			}
		}
		return sum / float64(n)
	}
	web := 0.0
	for _, d := range [4][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		web += mean(u+d[0]*t.PitchMM/2, v+d[1]*t.PitchMM/2, t.PitchMM*webHalf) / 4
	}
	more = mean(u, v, t.PlugMM*cellHalf) - web
	return more, !math.IsNaN(more)
}
