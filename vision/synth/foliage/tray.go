package foliage

import "math"

// tray is a tray of cells, its webs' upper side at height 0; lengths in mm.
type tray struct {
	pitch  float64
	middle [2]float64 // of one cell
	round  bool       // round cells, else square ones
	open   float64    // half the width of a cell's opening
	corner float64    // radius of a square cell's corners
	slant  float64    // width of a cell's wall, seen from above
	depth  float64    // of the medium below the webs; below 0 for blocks of medium that stand up between gaps
	bulge  float64    // height of the medium's middle over its rim
	block  bool       // blocks of medium without a tray

	low, high [2]int  // first and last cell along x and y, counted from the one at middle
	rim       float64 // width beyond the outermost cells' pitch
}

// cell is where a place lies in its cell.
type cell struct {
	i, j   int
	x, y   float64 // from the cell's middle
	inside float64 // mm inside the opening's edge; below 0 outside
	within float64 // mm inside the tray's outer edge; below 0 outside
}

const endless = 1 << 20 // cells: the tray's edge is not in sight

func (t *tray) cell(x, y float64) cell {
	x, y = x-t.middle[0], y-t.middle[1]
	fx, fy := math.Floor(x/t.pitch+0.5), math.Floor(y/t.pitch+0.5)
	c := cell{i: int(fx), j: int(fy), within: 1000}
	c.x, c.y = x-fx*t.pitch, y-fy*t.pitch
	if t.round {
		c.inside = t.open - math.Sqrt(c.x*c.x+c.y*c.y)
	} else {
		c.inside = boxed(math.Abs(c.x), math.Abs(c.y), t.open, t.corner)
	}
	if t.low != [2]int{-endless, -endless} || t.high != [2]int{endless, endless} {
		c.within = t.within(x, y)
	}
	if !t.has(c.i, c.j) {
		c.inside = -t.pitch
	}
	return c
}

// within is the distance inside the tray's outer edge, which has rounded corners, by x and y from middle.
func (t *tray) within(x, y float64) float64 {
	x0, y0 := (float64(t.low[0])-0.5)*t.pitch-t.rim, (float64(t.low[1])-0.5)*t.pitch-t.rim
	x1, y1 := (float64(t.high[0])+0.5)*t.pitch+t.rim, (float64(t.high[1])+0.5)*t.pitch+t.rim
	dx, dy := min(x-x0, x1-x), min(y-y0, y1-y)
	const round = 5.0
	if dx < round && dy < round {
		return round - math.Sqrt((round-dx)*(round-dx)+(round-dy)*(round-dy))
	}
	return min(dx, dy)
}

func (t *tray) has(i, j int) bool {
	return i >= t.low[0] && i <= t.high[0] && j >= t.low[1] && j <= t.high[1]
}

// boxed is the distance inside a square of half-width half with rounded corners.
func boxed(x, y, half, corner float64) float64 {
	dx, dy := half-x, half-y
	if dx < corner && dy < corner {
		return corner - math.Sqrt((corner-dx)*(corner-dx)+(corner-dy)*(corner-dy))
	}
	return min(dx, dy)
}

// medium is the height of the medium's surface in a cell, without its grain.
func (t *tray) medium(c cell) float64 {
	return -t.depth + t.bulge*ramp(0, t.open, c.inside)
}

// drawTray draws the tray in the middle of the scene. Plain ones are dark.
func drawTray(d dice, plain bool) tray {
	t := tray{pitch: d.between(30, 55), low: [2]int{-endless, -endless}, high: [2]int{endless, endless}}
	if d.chance(0.35) {
		t.pitch = d.scaled(15, 70)
	}
	t.middle = [2]float64{d.between(0, t.pitch), d.between(0, t.pitch)}
	t.round = d.chance(0.22)
	t.open = t.pitch * d.between(0.38, 0.475)
	t.corner = t.open * d.between(0.05, 0.6)
	t.depth = d.between(0.5, 4)
	if d.chance(0.3) {
		t.depth = d.between(3, min(12, 0.3*t.pitch))
	}
	t.slant = clamp(t.depth*d.between(0.1, 0.5), 0.4, 0.2*t.pitch)
	t.bulge = d.between(-0.5, 1.5)
	t.rim = d.between(2, 14)
	if !plain && d.chance(0.12) {
		t.block, t.round = true, false
		t.open, t.depth, t.slant = t.pitch/2-d.between(0.4, 2), 0.2, 0.5
		t.corner = d.between(0.3, 3)
	}
	return t
}

// cut ends the tray within the drawing on a side of it: 0 left, 1 top, 2 right, 3 bottom.
func (t *tray) cut(d dice, side int) {
	axis := side % 2
	place := d.between(0.08, 0.45) * across
	if side < 2 {
		t.low[axis] = int(math.Ceil((place - t.middle[axis]) / t.pitch))
	} else {
		t.high[axis] = int(math.Floor((across - place - t.middle[axis]) / t.pitch))
	}
}

// beside is a tray like t that stands on that side of it, a gap away.
func (t *tray) beside(d dice, side int, gap float64) tray {
	n := *t
	n.low, n.high = [2]int{-endless, -endless}, [2]int{endless, endless}
	axis, apart := side%2, 2*t.rim+t.pitch+gap
	n.middle[1-axis] += d.between(-0.5, 0.5) * t.pitch
	if side < 2 {
		n.middle[axis] = t.middle[axis] + float64(t.low[axis])*t.pitch - apart
		n.high[axis] = 0
	} else {
		n.middle[axis] = t.middle[axis] + float64(t.high[axis])*t.pitch + apart
		n.low[axis] = 0
	}
	return n
}

// label is the middle of a cell that the tray has, and the pitch, in texels.
func (t *tray) label() (middle [2]float64, pitch float64) {
	for axis := range 2 {
		cell := float64(min(t.high[axis], max(t.low[axis], 0)))
		middle[axis] = (t.middle[axis] + cell*t.pitch) * perMM
	}
	return middle, t.pitch * perMM
}

// land is where the trays stand.
type land struct {
	trays []tray
	table float64 // height of what they stand on, mm
}

// cell is where a place lies in the tray that it is in or nearest to.
func (l *land) cell(x, y float64) (cell, *tray) {
	best, tray := l.trays[0].cell(x, y), &l.trays[0]
	for i := 1; i < len(l.trays); i++ {
		if c := l.trays[i].cell(x, y); c.within > best.within {
			best, tray = c, &l.trays[i]
		}
	}
	return best, tray
}

// floor is the height on which leaves come to lie.
func (l *land) floor(x, y float64) float64 {
	c, t := l.cell(x, y)
	switch {
	case c.within < 0:
		return l.table + 1
	case c.inside > 0:
		return t.medium(c)*ramp(0, t.slant, c.inside) + 0.7
	}
	return 0.6
}
