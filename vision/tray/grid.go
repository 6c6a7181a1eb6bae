package tray

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Grid says where the cells really are: the dock's cells moved by (U, V) mm and turned by Turn radians about the tray's
// middle. A hand lays the card down to a few mm and about a degree; what the tray itself shows settles the rest.
type Grid struct {
	U, V, Turn float64
	Fitted     bool // false: the tray showed too little, and the dock's cells stand as they are

	Pitch   Pitch   // as the photo shows it; cells are placed by the drawing's all the same
	OtherMM float64 // the pitch of a tray that is clearly another one than the drawing's; else 0
}

// Place returns where (u, v) of the drawing is in the tray frame of the dock.
func (g Grid) Place(t Layout, u, v float64) (float64, float64) { return g.placing(t)(u, v) }

// placing is Place for many places.
func (g Grid) placing(t Layout) func(u, v float64) (float64, float64) {
	cu, cv := t.LengthMM/2, t.WidthMM/2
	sin, cos := math.Sincos(g.Turn)
	return func(u, v float64) (float64, float64) {
		return cu + (u-cu)*cos - (v-cv)*sin + g.U, cv + (u-cu)*sin + (v-cv)*cos + g.V
	}
}

// Back is the inverse of place.
func (g Grid) Back(t Layout, u, v float64) (float64, float64) {
	cu, cv := t.LengthMM/2, t.WidthMM/2
	sin, cos := math.Sincos(-g.Turn)
	u, v = u-cu-g.U, v-cv-g.V
	return cu + u*cos - v*sin, cv + u*sin + v*cos
}

// Turned turns an offset in the drawing as the grid lies.
func (g Grid) Turned(du, dv float64) (u, v float64) {
	sin, cos := math.Sincos(g.Turn)
	return du*cos - dv*sin, du*sin + dv*cos
}

// Search range of the grid: what a hand is off by, with room (card.md: a few mm, about a degree).
const (
	gridReachMM  = 8
	gridReachDeg = 2.0
)

// darkLight is added to a colour's light before its warmth is taken: as much as a picture's darkest two dozen codes.
const darkLight = 0.02

// warmth is how much a colour leans from blue to red, −1 to 1. Medium, roots and leaves are warm, trays of plastic are
// not; dark counts for little, since a picture's darkest codes have no sure colour.
func warmth(r, g, b float32) float32 { return (r - b) / (r + g + b + darkLight) }

// FitGrid lays the cells on what the photo shows of them: cells are warmer or lighter than the webs between them. It is tried out
// coarsely at first; a cell's mean warmth changes over many mm, so that no top is narrower than the steps. How far apart they are by the card is left to Pitch.
func (m *Map) FitGrid() Grid {
	t := m.t
	if t.Grid != nil {
		return *t.Grid
	}
	best, top := Grid{}, m.match(t, Grid{})
	for turn := -gridReachDeg; turn <= gridReachDeg; turn += 0.5 {
		for du := -gridReachMM; du <= gridReachMM; du += 2 {
			for dv := -gridReachMM; dv <= gridReachMM; dv += 2 {
				g := Grid{U: float64(du), V: float64(dv), Turn: turn * math.Pi / 180}
				if f := m.match(t, g); f > top {
					best, top = g, f
				}
			}
		}
	}
	for step := 1.0; step > 0.1; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, d := range []Grid{{U: step}, {U: -step}, {V: step}, {V: -step}, {Turn: step / 300}, {Turn: -step / 300}} {
				g := Grid{U: best.U + d.U, V: best.V + d.V, Turn: best.Turn + d.Turn}
				if f := m.match(t, g); f > top+1e-9 {
					best, top, moved = g, f, true
				}
			}
		}
	}
	if top < leastMatch {
		return Grid{OtherMM: m.otherPitch()}
	}
	best.Fitted, best.OtherMM = true, m.otherPitch()
	return best
}

// leastMatch is the least mean difference in warmth between cells and webs for a grid to be trusted; it is ten times what
// one code in a picture's dark part makes.
const leastMatch = 0.02

// Map is the tray's warmth on a grid of one value a mm, read at the mm's middle, margin mm beyond the tray's edges, as
// sums for quick means. A tray whose grid is given has none.
type Map struct {
	s    *scene.Scene
	t    Layout
	w, h int
	sum  []float64 // (w+1) × (h+1) running sums
}

const mapMargin = 12

// NewMap reads the map.
func NewMap(s *scene.Scene, t Layout) *Map {
	m := &Map{s: s, t: t, w: int(t.LengthMM) + 2*mapMargin, h: int(t.WidthMM) + 2*mapMargin}
	if t.Grid != nil {
		return m
	}
	o := overviewOf(s, t)
	m.sum = make([]float64, (m.w+1)*(m.h+1))
	for j := range m.h {
		row := 0.0
		for i := range m.w {
			if c, ok := o.light(placeOf(i, j)); ok {
				row += float64(warmth(c[0], c[1], c[2]))
			}
			m.sum[(j+1)*(m.w+1)+i+1] = m.sum[j*(m.w+1)+i+1] + row
		}
	}
	return m
}

// placeOf returns where on the tray a value is read.
func placeOf(i, j int) (u, v float64) { return float64(i-mapMargin) + 0.5, float64(j-mapMargin) + 0.5 }

// mean over a square of 2·half mm about (u, v). The square's edges cut the map's values where they lie: rounded to whole mm
// they would leave the grid up to half a mm off.
func (m *Map) mean(u, v, half float64) float64 {
	x0, x1 := math.Max(0, u-half+mapMargin), math.Min(float64(m.w), u+half+mapMargin)
	y0, y1 := math.Max(0, v-half+mapMargin), math.Min(float64(m.h), v+half+mapMargin)
	if x1-x0 < 0.5 || y1-y0 < 0.5 {
		return 0
	}
	return (m.sumTo(x1, y1) - m.sumTo(x1, y0) - m.sumTo(x0, y1) + m.sumTo(x0, y0)) / ((x1 - x0) * (y1 - y0))
}

// sumTo is the sum over the map left of x and above y, both within the map; between whole mm it is interpolated.
func (m *Map) sumTo(x, y float64) float64 {
	i, j := min(int(x), m.w-1), min(int(y), m.h-1)
	fx, fy := x-float64(i), y-float64(j)
	at := m.sum[j*(m.w+1)+i:]
	top, low := at[0]+(at[1]-at[0])*fx, at[m.w+1]+(at[m.w+2]-at[m.w+1])*fx
	return top + (low-top)*fy
}

// Half sides of the squares that match looks at: cells, in plug diameters; between four cells and between two, in pitches. A web between two cells is
// narrower than where four meet.
const (
	cellHalf      = 0.35
	cornerWebHalf = 0.1
	sideWebHalf   = 0.06
)

// match is the mean warmth in the cells less that half-way between each four of them.
func (m *Map) match(t Layout, g Grid) float64 {
	in, out := 0.0, 0.0
	place := g.placing(t)
	for r := range t.Rows {
		for c := range t.Columns {
			u, v := t.Centre(r, c)
			gu, gv := place(u, v)
			in += m.mean(gu, gv, t.PlugMM*cellHalf)
			if r+1 < t.Rows && c+1 < t.Columns {
				gu, gv = place(u+t.PitchMM/2, v+t.PitchMM/2)
				out += m.mean(gu, gv, t.PitchMM*cornerWebHalf)
				gu, gv = place(u+t.PitchMM/2, v)
				out += m.mean(gu, gv, t.PitchMM*sideWebHalf)
				gu, gv = place(u, v+t.PitchMM/2)
				out += m.mean(gu, gv, t.PitchMM*sideWebHalf)
			}
		}
	}
	if t.Rows < 2 || t.Columns < 2 {
		return 0
	}
	return in/float64(t.Rows*t.Columns) - out/float64(3*(t.Rows-1)*(t.Columns-1))
}

// CellOutline returns the cell's square in the photo.
func CellOutline(s *scene.Scene, pl *scene.Plane, t Layout, g Grid, row, col int) []raster.Px {
	u, v := t.Centre(row, col)
	h := t.PitchMM / 2
	var q []raster.Px
	for _, d := range [4][2]float64{{-h, -h}, {h, -h}, {h, h}, {-h, h}} {
		gu, gv := g.Place(t, u+d[0], v+d[1])
		q = append(q, pl.ToPx(s.TrayPoint(gu, gv)))
	}
	return q
}
