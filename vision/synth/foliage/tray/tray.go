// Package tray is where trays stand and where in them cells are: openings, walls and the medium's surface as heights in mm, without anything
// that is seen of them. In goes chance; a place in mm gives the cell that it lies in, how far within, and the height on which leaves come
// to lie. It knows nothing of plants, colours and light.
package tray

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Tray is a tray of cells, its webs' upper side at height 0; lengths in mm.
type Tray struct {
	Pitch  float64
	Middle [2]float64 // of one cell
	round  bool       // round cells, else square ones
	Open   float64    // half the width of a cell's opening
	corner float64    // radius of a square cell's corners
	Slant  float64    // width of a cell's wall, seen from above
	Depth  float64    // of the medium below the webs; below 0 for blocks of medium that stand up between gaps
	bulge  float64    // height of the medium's middle over its rim
	Block  bool       // blocks of medium without a tray
	Field  bool       // open ground, in which plants stand in rows

	Low, High [2]int  // first and last cell along x and y, counted from the one at middle
	rim       float64 // width beyond the outermost cells' pitch
}

// Cell is where a place lies in its cell.
type Cell struct {
	I, J   int
	X, Y   float64 // from the cell's middle
	Inside float64 // mm inside the opening's edge; below 0 outside
	Within float64 // mm inside the tray's outer edge; below 0 outside
}

const Endless = 1 << 20 // cells: the tray's edge is not in sight

// Cell is where a place, in mm, lies in its cell.
func (t *Tray) Cell(x, y float64) Cell {
	x, y = x-t.Middle[0], y-t.Middle[1]
	fx, fy := math.Floor(x/t.Pitch+0.5), math.Floor(y/t.Pitch+0.5)
	c := Cell{I: int(fx), J: int(fy), Within: 1000}
	c.X, c.Y = x-fx*t.Pitch, y-fy*t.Pitch
	if t.round {
		c.Inside = t.Open - math.Sqrt(c.X*c.X+c.Y*c.Y)
	} else {
		c.Inside = boxed(math.Abs(c.X), math.Abs(c.Y), t.Open, t.corner)
	}
	if t.Low != [2]int{-Endless, -Endless} || t.High != [2]int{Endless, Endless} {
		c.Within = t.within(x, y)
	}
	if !t.has(c.I, c.J) {
		c.Inside = -t.Pitch
	}
	return c
}

// within is the distance inside the tray's outer edge, which has rounded corners, by x and y from middle.
func (t *Tray) within(x, y float64) float64 {
	x0, y0 := (float64(t.Low[0])-0.5)*t.Pitch-t.rim, (float64(t.Low[1])-0.5)*t.Pitch-t.rim
	x1, y1 := (float64(t.High[0])+0.5)*t.Pitch+t.rim, (float64(t.High[1])+0.5)*t.Pitch+t.rim
	dx, dy := min(x-x0, x1-x), min(y-y0, y1-y)
	const round = 5.0
	if dx < round && dy < round {
		return round - math.Sqrt((round-dx)*(round-dx)+(round-dy)*(round-dy))
	}
	return min(dx, dy)
}

func (t *Tray) has(i, j int) bool {
	return i >= t.Low[0] && i <= t.High[0] && j >= t.Low[1] && j <= t.High[1]
}

// boxed is the distance inside a square of half-width half with rounded corners.
func boxed(x, y, half, corner float64) float64 {
	dx, dy := half-x, half-y
	if dx < corner && dy < corner {
		return corner - math.Sqrt((corner-dx)*(corner-dx)+(corner-dy)*(corner-dy))
	}
	return min(dx, dy)
}

// Medium is the height of the medium's surface in a cell, without its grain.
func (t *Tray) Medium(c Cell) float64 {
	return -t.Depth + t.bulge*num.Ramp(0, t.Open, c.Inside)
}

// DrawTray draws the tray in the middle of the scene. Plain ones are dark.
func DrawTray(d num.Dice, plain bool) Tray {
	t := Tray{Pitch: d.Between(30, 55), Low: [2]int{-Endless, -Endless}, High: [2]int{Endless, Endless}}
	if d.Chance(0.35) {
		t.Pitch = d.Scaled(15, 70)
	}
	t.Middle = [2]float64{d.Between(0, t.Pitch), d.Between(0, t.Pitch)}
	t.round = d.Chance(0.22)
	t.Open = t.Pitch * d.Between(0.38, 0.475)
	t.corner = t.Open * d.Between(0.05, 0.6)
	t.Depth = d.Between(0.5, 4)
	if d.Chance(0.3) {
		t.Depth = d.Between(3, min(12, 0.3*t.Pitch))
	}
	t.Slant = num.Clamp(t.Depth*d.Between(0.1, 0.5), 0.4, 0.2*t.Pitch)
	t.bulge = d.Between(-0.5, 1.5)
	t.rim = d.Between(2, 14)
	if !plain && d.Chance(0.3) {
		t.plough(d)
	} else if !plain && d.Chance(0.12) {
		t.Block, t.round = true, false
		t.Open, t.Depth, t.Slant = t.Pitch/2-d.Between(0.4, 2), 0.2, 0.5
		t.corner = d.Between(0.3, 3)
	}
	return t
}

// plough makes the tray open ground that reaches beyond all sides.
func (t *Tray) plough(d num.Dice) {
	t.Field, t.Block, t.round = true, true, false
	t.Pitch = d.Scaled(14, 60)
	t.Middle = [2]float64{d.Between(0, t.Pitch), d.Between(0, t.Pitch)}
	t.Open, t.Depth, t.Slant, t.corner, t.bulge = 2*t.Pitch, 0.2, 0.5, 0.3, 0
}

// Cut ends the tray within the drawing on a side of it: 0 left, 1 top, 2 right, 3 bottom.
func (t *Tray) Cut(d num.Dice, side int) {
	axis := side % 2
	place := d.Between(0.08, 0.45) * num.Across
	if side < 2 {
		t.Low[axis] = int(math.Ceil((place - t.Middle[axis]) / t.Pitch))
	} else {
		t.High[axis] = int(math.Floor((num.Across - place - t.Middle[axis]) / t.Pitch))
	}
}

// Beside is a tray like t that stands on that side of it, a gap away.
func (t *Tray) Beside(d num.Dice, side int, gap float64) Tray {
	n := *t
	n.Low, n.High = [2]int{-Endless, -Endless}, [2]int{Endless, Endless}
	axis, apart := side%2, 2*t.rim+t.Pitch+gap
	n.Middle[1-axis] += d.Between(-0.5, 0.5) * t.Pitch
	if side < 2 {
		n.Middle[axis] = t.Middle[axis] + float64(t.Low[axis])*t.Pitch - apart
		n.High[axis] = 0
	} else {
		n.Middle[axis] = t.Middle[axis] + float64(t.High[axis])*t.Pitch + apart
		n.Low[axis] = 0
	}
	return n
}

// Label is the middle of a cell that the tray has, and the pitch, in texels.
func (t *Tray) Label() (middle [2]float64, pitch float64) {
	for axis := range 2 {
		cell := float64(min(t.High[axis], max(t.Low[axis], 0)))
		middle[axis] = (t.Middle[axis] + cell*t.Pitch) * num.PerMM
	}
	return middle, t.Pitch * num.PerMM
}

// Land is where the trays stand.
type Land struct {
	Trays []Tray
	Table float64 // height of what they stand on, mm
}

// Cell is where a place lies in the tray that it is in or nearest to.
func (l *Land) Cell(x, y float64) (Cell, *Tray) {
	best, tray := l.Trays[0].Cell(x, y), &l.Trays[0]
	for i := 1; i < len(l.Trays); i++ {
		if c := l.Trays[i].Cell(x, y); c.Within > best.Within {
			best, tray = c, &l.Trays[i]
		}
	}
	return best, tray
}

// Floor is the height on which leaves come to lie.
func (l *Land) Floor(x, y float64) float64 {
	c, t := l.Cell(x, y)
	switch {
	case c.Within < 0:
		return l.Table + 1
	case c.Inside > 0:
		return t.Medium(c)*num.Ramp(0, t.Slant, c.Inside) + 0.7
	}
	return 0.6
}
