package vision

import (
	"math"

	"traygauge/vision/card"
)

// trayRow says where the blocks of one row of the canopy's frame lie in the tray, and what they cover.
type trayRow struct {
	c            *canopy
	sin, cos     float64
	xs, ys, area []float32 // on the leaves' plane, by pixel
}

func (c *canopy) newTrayRow() *trayRow {
	r := &trayRow{c: c}
	r.sin, r.cos = math.Sincos(-c.grid.Turn)
	buf := make([]float32, 3*c.w)
	r.xs, r.ys, r.area = buf[:c.w], buf[c.w:2*c.w], buf[2*c.w:]
	return r
}

// fill goes to a row of blocks.
func (r *trayRow) fill(y int) {
	r.c.plane.Row(r.c.rect.Min.X, r.c.rect.Min.Y+block*y+block/2, r.xs, r.ys, r.area)
}

// uv returns where block x of the row lies in the drawing of the tray: the inverse of Grid.place.
func (r *trayRow) uv(x int) (u, v float64) {
	i, c := block*x+block/2, r.c
	u, v = c.s.TrayUV(card.Pt{X: float64(r.xs[i]), Y: float64(r.ys[i])})
	cu, cv := c.t.LengthMM/2, c.t.WidthMM/2
	u, v = u-cu-c.grid.U, v-cv-c.grid.V
	return cu + u*r.cos - v*r.sin, cv + u*r.sin + v*r.cos
}

// pixelMM2 is what a pixel of block x covers.
func (r *trayRow) pixelMM2(x int) float64 { return float64(r.area[block*x+block/2]) }
