// Package grid is where a tray's cells are, upright in the drawing: their openings, their medium's height, and what each cell has of its
// own. In goes a place in texels, out comes the cell that it belongs to and how far within it lies, in mm. It does not know what a tray or
// its medium look like, nor what grows there.
package grid

import (
	"cmp"
	"math"
	"slices"

	"traygauge/vision/synth/herbarium/num"
)

// Grid is where a tray's square cells are, upright in the drawing. Lengths in mm but for its own place and pitch.
type Grid struct {
	PerMM  float64
	Middle num.Point    // of cell (0, 0), in texels
	Pitch  float64      // texels
	Lo, Hi [2]int       // the first and the last cell to the right and down
	Half   float64      // half a cell's opening
	Corner float64      // radius of the openings' corners
	Rim    float64      // from the outermost openings' pitch to the tray's border
	Wall   float64      // how many mm deeper a wall goes for each mm inward
	Deep   float64      // of the medium below the tray's upper side
	Cells  [64]CellKind // by chance, for each cell one of these
}

// CellKind is what one cell has of its own.
type CellKind struct {
	Level float64 // mm that the medium stands higher
	Wet   float64
	Green float64 // how much of the medium is green with algae or moss
	Bare  bool    // no medium at all
	Turn  float64
}

// Endless is as many cells as are never in sight: the tray goes on past the drawing.
const Endless = 1 << 20

// Cell returns the middle of a cell, in texels.
func (t *Grid) Cell(at [2]int) num.Point {
	return t.Middle.Plus(num.At(float64(at[0]), float64(at[1])).Times(t.Pitch))
}

// Kind is what a cell has of its own.
func (t *Grid) Kind(at [2]int) *CellKind { return &t.Cells[(at[0]*37+at[1]*11)&63] }

// MediumAt is the height of a cell's medium, in mm.
func (t *Grid) MediumAt(at [2]int) float64 {
	k := t.Kind(at)
	if k.Bare {
		return -3 * t.Deep
	}
	return k.Level - t.Deep
}

// CellsNear returns the cells with their middles in the drawing, then those within reach texels of it, from near to far.
func (t *Grid) CellsNear(side int, reach float64) [][2]int {
	var out [][2]int
	first := func(v, c float64) int { return int(math.Ceil((v - c) / t.Pitch)) }
	far := float64(side) + reach
	for j := max(t.Lo[1], first(-reach, t.Middle.Y)); j <= t.Hi[1] && t.Middle.Y+float64(j)*t.Pitch <= far; j++ {
		for i := max(t.Lo[0], first(-reach, t.Middle.X)); i <= t.Hi[0] && t.Middle.X+float64(i)*t.Pitch <= far; i++ {
			out = append(out, [2]int{i, j})
		}
	}
	away := func(at [2]int) float64 {
		p := t.Cell(at)
		s := float64(side)
		return max(0, -p.X, -p.Y, p.X-s, p.Y-s)
	}
	slices.SortStableFunc(out, func(a, b [2]int) int { return cmp.Compare(away(a), away(b)) })
	return out
}

// Inward returns how far a place lies within the tray's border, in mm; below 0 outside it.
func (t *Grid) Inward(p num.Point) float64 {
	in := math.Inf(1)
	for axis, v := range [2]float64{p.X, p.Y} {
		m := [2]float64{t.Middle.X, t.Middle.Y}[axis]
		if t.Lo[axis] > -Endless {
			in = min(in, v-(m+(float64(t.Lo[axis])-0.5)*t.Pitch))
		}
		if t.Hi[axis] < Endless {
			in = min(in, m+(float64(t.Hi[axis])+0.5)*t.Pitch-v)
		}
	}
	return in/t.PerMM + t.Rim
}

// Opening returns the cell that a place belongs to, and how far within its opening it lies, in mm; below 0 on the web. Beyond the
// outermost cells there is web alone.
func (t *Grid) Opening(p num.Point) (at [2]int, in float64) {
	u, v := (p.X-t.Middle.X)/t.Pitch, (p.Y-t.Middle.Y)/t.Pitch
	i, j := math.Floor(u+0.5), math.Floor(v+0.5)
	i, j = num.Clamp(i, float64(t.Lo[0]), float64(t.Hi[0])), num.Clamp(j, float64(t.Lo[1]), float64(t.Hi[1]))
	mm := t.Pitch / t.PerMM
	x, y := math.Abs(u-i)*mm-(t.Half-t.Corner), math.Abs(v-j)*mm-(t.Half-t.Corner)
	out := max(x, y)
	if x > 0 && y > 0 {
		out = math.Sqrt(x*x + y*y)
	}
	return [2]int{int(i), int(j)}, t.Corner - out
}

// Step is the way from a cell to the next to the right or down, in texels.
func (t *Grid) Step(axis int) num.Point {
	if axis == 0 {
		return num.At(t.Pitch, 0)
	}
	return num.At(0, t.Pitch)
}

// OnMedium draws a place on a cell's medium, in texels, and its height in mm.
func (t *Grid) OnMedium(d num.Dice, side int) (num.Point, float64) {
	var p num.Point
	for range 12 {
		p = num.At(d.Between(0, float64(side)), d.Between(0, float64(side)))
		if at, in := t.Opening(p); in > 1 && !t.Kind(at).Bare && t.Inward(p) > 0 {
			return p, t.MediumAt(at)
		}
	}
	return num.At(-1e4, -1e4), 0
}
