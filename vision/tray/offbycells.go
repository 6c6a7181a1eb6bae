package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A grid that was fitted to cells lies on cells, but it may lie whole cells off: then the outermost row on one side lies on the bench, and beyond the one on
// the other side there is a row of cells more. A cell is known by what FitGrid goes by, the warmth in it less that of the webs about it.
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

// A row of cells beyond the grid is known by many of its cells standing out as the tray's own do. Of boards, the card, stones and neighbours' leaves at most a quarter does where
// the tray's own cells are clear, over some 300 drawn photos; of the rows that a plan left out, two fifths and more.
const (
	likeCells           = 0.39 // of a row
	alikeCells          = 0.45 // of the tray
	leastLike, mostLike = 0.5, 1.5
)

// MoreCells returns on which side there is a column and a row of cells more than in the drawing: -1 before its first, 1 after its last, 0 none.
func MoreCells(s *scene.Scene, t Layout, g Grid) (columns, rows int) {
	if !g.Fitted || t.Rows < 2 || t.Columns < 2 {
		return 0, 0
	}
	o, lastRow, lastCol := overviewOf(s, t), t.Rows-1, t.Columns-1
	own := o.standingOut(t, g, 0, lastRow, 0, lastCol)
	usual := raster.Median(slices.Clone(own))
	if likeUsual(own, usual) < alikeCells*float64(t.Rows*t.Columns) {
		return 0, 0
	}
	for _, beyond := range [2]struct{ side, row, column int }{{-1, -1, -1}, {1, t.Rows, t.Columns}} {
		if likeUsual(o.standingOut(t, g, 0, lastRow, beyond.column, beyond.column), usual) >= likeCells*float64(t.Rows) {
			columns = beyond.side
		}
		if likeUsual(o.standingOut(t, g, beyond.row, beyond.row, 0, lastCol), usual) >= likeCells*float64(t.Columns) {
			rows = beyond.side
		}
	}
	return columns, rows
}

// likeUsual counts the cells that stand out about as much as the tray's usual one.
func likeUsual(cells []float64, usual float64) (n float64) {
	for _, v := range cells {
		if v > leastLike*usual && v < mostLike*usual {
			n++
		}
	}
	return n
}

// standingOut returns how much each cell of these rows and columns stands out, without those that are not in the photo.
func (o overview) standingOut(t Layout, g Grid, row0, row1, col0, col1 int) (all []float64) {
	for r := row0; r <= row1; r++ {
		for c := col0; c <= col1; c++ {
			if v, ok := o.standsOut(t, g, r, c); ok {
				all = append(all, v)
			}
		}
	}
	return all
}

// cellness is how much warmer a cell's middle is than half-way to its four neighbours; ok is false where that is not in the photo.
func (o overview) cellness(t Layout, g Grid, row, col int) (more float64, ok bool) {
	middle, webs := o.cellAndWebs(t, g, row, col)
	more = middle - (webs[0]+webs[1]+webs[2]+webs[3])/4
	return more, !math.IsNaN(more)
}

// standsOut is how much warmer a cell's middle is than the warmest of the four places half-way to its neighbours: on a warm board beside the tray's rim it is next to nothing.
func (o overview) standsOut(t Layout, g Grid, row, col int) (more float64, ok bool) {
	middle, webs := o.cellAndWebs(t, g, row, col)
	more = middle - max(webs[0], webs[1], webs[2], webs[3]) // NaN where one is
	return more, !math.IsNaN(more)
}

// cellAndWebs are the warmth of a cell's middle and half-way to its four neighbours; NaN where that is not in the photo.
func (o overview) cellAndWebs(t Layout, g Grid, row, col int) (middle float64, webs [4]float64) {
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
	for i, d := range [4][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		webs[i] = mean(u+d[0]*t.PitchMM/2, v+d[1]*t.PitchMM/2, t.PitchMM*webHalf)
	}
	return mean(u, v, t.PlugMM*cellHalf), webs
}
