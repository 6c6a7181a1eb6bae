package canvas

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Mask is the share of each texel that outlines cover, exact for straight edges, in a box of the drawing.
type Mask struct {
	X0, Y0, W, H int // the box: w × h texels from (x0, y0)
	cover        []float32
	sums         []float32 // signed areas to be summed up along each row; w+2 a row
}

// cut finds the coverage of outlines: those of positive area cover, those of negative area are holes in them. It reports whether
// anything of them lies in the drawing of the given side.
func (m *Mask) cut(side int, rings ...num.Ring) bool {
	if !m.fit(side, rings) {
		return false
	}
	shift := num.At(float64(m.X0), float64(m.Y0))
	for _, g := range rings {
		for i, p := range g {
			m.edge(p.Minus(shift), g[(i+1)%len(g)].Minus(shift))
		}
	}
	m.sum()
	return true
}

// fit lays the box round the outlines, as far as they lie in the drawing.
func (m *Mask) fit(side int, rings []num.Ring) bool {
	lo, hi := num.At(math.Inf(1), math.Inf(1)), num.At(math.Inf(-1), math.Inf(-1))
	for _, g := range rings {
		a, b := g.Bounds()
		lo, hi = num.At(min(lo.X, a.X), min(lo.Y, a.Y)), num.At(max(hi.X, b.X), max(hi.Y, b.Y))
	}
	if !(hi.X > 0 && hi.Y > 0 && lo.X < float64(side) && lo.Y < float64(side)) {
		return false
	}
	m.X0, m.Y0 = max(0, int(lo.X)), max(0, int(lo.Y))
	m.W, m.H = min(side, int(hi.X)+1)-m.X0, min(side, int(hi.Y)+1)-m.Y0
	m.cover = cleared(m.cover, m.W*m.H)
	m.sums = cleared(m.sums, (m.W+2)*m.H)
	return true
}

// cleared returns n zeros, in s where they fit.
func cleared(s []float32, n int) []float32 {
	if cap(s) < n {
		return make([]float32, n, n+n/2)
	}
	s = s[:n]
	clear(s)
	return s
}

// edge adds one edge of an outline, in texels of the box. What lies left of the box counts as if on its border; what lies right of
// it covers nothing.
func (m *Mask) edge(a, b num.Point) {
	if a.Y == b.Y {
		return
	}
	for _, border := range [2]float64{0, float64(m.W)} {
		if (a.X < border) != (b.X < border) && a.X != border && b.X != border {
			c := num.At(border, a.Y+(b.Y-a.Y)*(border-a.X)/(b.X-a.X))
			m.edge(a, c)
			m.edge(c, b)
			return
		}
	}
	a.X, b.X = num.Clamp(a.X, 0, float64(m.W)), num.Clamp(b.X, 0, float64(m.W))
	way := float32(1)
	if a.Y > b.Y {
		a, b, way = b, a, -1
	}
	m.rows(a, b, way)
}

// rows adds an edge that goes down, row by row.
func (m *Mask) rows(a, b num.Point, way float32) {
	slope := (b.X - a.X) / (b.Y - a.Y)
	first, last := max(0, int(math.Floor(a.Y))), min(m.H, int(math.Ceil(b.Y)))
	for y := first; y < last; y++ {
		top, low := max(float64(y), a.Y), min(float64(y+1), b.Y)
		x0, x1 := a.X+(top-a.Y)*slope, a.X+(low-a.Y)*slope
		if x0 > x1 {
			x0, x1 = x1, x0
		}
		m.span(m.sums[y*(m.W+2):(y+1)*(m.W+2)], max(0, x0), min(float64(m.W), x1), -way*float32(low-top))
	}
}

// span adds the piece of an edge within one row, from x0 to x1, that goes through drop of the row's height: each texel that it
// crosses gets the area right of it, those beyond get the drop whole, as steps from texel to texel.
func (m *Mask) span(row []float32, x0, x1 float64, drop float32) {
	first := int(x0)
	if x1 <= float64(first+1) {
		left := float32((x0+x1)/2 - float64(first))
		row[first] += drop * (1 - left)
		row[first+1] += drop * left
		return
	}
	rate := float64(drop) / (x1 - x0)
	done := 0.0 // area given to the texels so far, as they sum up
	for x := first; float64(x) < x1; x++ {
		from, to := max(x0, float64(x)), min(x1, float64(x+1))
		crossed := rate * (to - from) * (float64(x+1) - (from+to)/2)
		whole := rate * (from - x0)
		row[x] += float32(crossed + whole - done)
		done = crossed + whole
	}
	row[int(math.Ceil(x1))] += float32(float64(drop) - done)
}

// sum turns the steps into coverage.
func (m *Mask) sum() {
	const none = 1e-4 // of a texel: rounding, no area
	for y := range m.H {
		sum := float32(0)
		sums, cover := m.sums[y*(m.W+2):], m.cover[y*m.W:(y+1)*m.W]
		for x := range cover {
			sum += sums[x]
			switch {
			case sum > 1-none:
				cover[x] = 1
			case sum > none:
				cover[x] = sum
			}
		}
	}
}

// Depths returns for each texel of the box how far it lies from the outline inward, in texels, by steps along rows, columns and
// diagonals (Borgefors 1986, weights 1 and the square root of 2); 0 where it is not covered.
func (m *Mask) Depths(out []float32) []float32 {
	out = cleared(out, m.W*m.H)
	for i, c := range m.cover {
		if c == 1 {
			out[i] = 1e6
		} else {
			out[i] = c / 2
		}
	}
	m.sweep(out, 0, 1)
	m.sweep(out, m.H-1, -1)
	return out
}

// sweep passes depths on from row to row, and along each row both ways.
func (m *Mask) sweep(out []float32, first, way int) {
	const aslant = 1.41421356
	for y, k := first, 0; k < m.H; y, k = y+way, k+1 {
		row := out[y*m.W : (y+1)*m.W]
		if k > 0 {
			from := out[(y-way)*m.W : (y-way+1)*m.W]
			for x := range row {
				near := from[x] + 1
				if x > 0 {
					near = min(near, from[x-1]+aslant)
				}
				if x < m.W-1 {
					near = min(near, from[x+1]+aslant)
				}
				row[x] = min(row[x], near)
			}
		}
		for x := 1; x < m.W; x++ {
			row[x] = min(row[x], row[x-1]+1)
		}
		for x := m.W - 2; x >= 0; x-- {
			row[x] = min(row[x], row[x+1]+1)
		}
	}
}
