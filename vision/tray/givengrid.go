package tray

import (
	"fmt"
	"math"

	"traygauge/vision/card"
	"traygauge/vision/kind"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// mostMisfit is how far given corners may lie off a grid of the tray's shape, as a share of the pitch and root mean square.
// One corner set on the neighbouring plug's makes it 0.35 or more: of the displacement d of one corner of four, moving the grid
// takes up d²/4 and turning it no more than that again, so at least √(d²/2/4) is left.
const mostMisfit = 0.25

// GivenGrid lays the cells on four corners that somebody set: the outer corners of the block of cells in the photo, around
// the tray from the first plug of the first row by the last one of that row. Size and scale stay those of tray and card; place and turn
// are the least-squares fit to the corners (Schönemann 1966, Psychometrika 31, 1-10, in the plane). Corners that do not fit
// a tray of this shape are a *Refusal.
func GivenGrid(s *scene.Scene, t Layout, corners [4]raster.Px) (Grid, error) {
	cu, cv := t.LengthMM/2, t.WidthMM/2
	var from, to [4]card.Pt
	for i, c := range t.block() {
		from[i] = card.Pt{X: c.X - cu, Y: c.Y - cv}
		u, v := s.TrayUV(s.Plane.ToMM(corners[i]))
		to[i] = card.Pt{X: u - cu, Y: v - cv}
	}
	fm, tm := middle(from), middle(to)
	along, across := 0.0, 0.0
	for i := range 4 {
		ax, ay, bx, by := from[i].X-fm.X, from[i].Y-fm.Y, to[i].X-tm.X, to[i].Y-tm.Y
		along += ax*bx + ay*by
		across += ax*by - ay*bx
	}
	g := Grid{Turn: math.Atan2(across, along), Fitted: true}
	sin, cos := math.Sincos(g.Turn)
	g.U, g.V = tm.X-(fm.X*cos-fm.Y*sin), tm.Y-(fm.X*sin+fm.Y*cos)
	sum := 0.0
	for i := range 4 {
		sum += raster.Sq(from[i].X*cos-from[i].Y*sin+g.U-to[i].X) + raster.Sq(from[i].X*sin+from[i].Y*cos+g.V-to[i].Y)
	}
	if off := math.Sqrt(sum / 4); !(off <= mostMisfit*t.PitchMM) {
		return Grid{}, photo.Refuse(kind.GridDoesNotFit, fmt.Sprintf("set the outer corners of the %d × %d plugs’ cells again, around the tray from the first plug of the first row by the last one of that row", t.Rows, t.Columns),
			"the four corners given lie %.0f mm off a tray of this shape, at most %.0f mm are allowed", off, mostMisfit*t.PitchMM)
	}
	return g, nil
}

// block returns the outer corners of the block of cells in the tray frame, in GivenGrid's order.
func (t Layout) block() [4]card.Pt {
	h := t.PitchMM / 2
	u0, v0 := t.FirstU-h, t.FirstV-h
	u1, v1 := u0+float64(t.Columns)*t.PitchMM, v0+float64(t.Rows)*t.PitchMM
	return [4]card.Pt{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}}
}

// GridCorners returns where the outer corners of the block of cells are in the photo, in GivenGrid's order.
func GridCorners(s *scene.Scene, t Layout, g Grid) (q [4]raster.Px) {
	for i, c := range t.block() {
		u, v := g.Place(t, c.X, c.Y)
		q[i] = s.Plane.ToPx(s.TrayPoint(u, v))
	}
	return q
}

func middle(q [4]card.Pt) card.Pt {
	return card.Pt{X: (q[0].X + q[1].X + q[2].X + q[3].X) / 4, Y: (q[0].Y + q[1].Y + q[2].Y + q[3].Y) / 4}
}
