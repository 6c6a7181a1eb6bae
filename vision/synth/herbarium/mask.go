package herbarium

import "math"

// mask is the share of each texel that outlines cover, exact for straight edges, in a box of the drawing.
type mask struct {
	x0, y0, w, h int // the box: w × h texels from (x0, y0)
	cover        []float32
	sums         []float32 // signed areas to be summed up along each row; w+2 a row
}

// cut finds the coverage of outlines: those of positive area cover, those of negative area are holes in them. It reports whether
// anything of them lies in the drawing of the given side.
func (m *mask) cut(side int, rings ...ring) bool {
	if !m.fit(side, rings) {
		return false
	}
	shift := point{float64(m.x0), float64(m.y0)}
	for _, g := range rings {
		for i, p := range g {
			m.edge(p.minus(shift), g[(i+1)%len(g)].minus(shift))
		}
	}
	m.sum()
	return true
}

// fit lays the box round the outlines, as far as they lie in the drawing.
func (m *mask) fit(side int, rings []ring) bool {
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, g := range rings {
		a, b := g.bounds()
		lo, hi = point{min(lo.x, a.x), min(lo.y, a.y)}, point{max(hi.x, b.x), max(hi.y, b.y)}
	}
	if !(hi.x > 0 && hi.y > 0 && lo.x < float64(side) && lo.y < float64(side)) {
		return false
	}
	m.x0, m.y0 = max(0, int(lo.x)), max(0, int(lo.y))
	m.w, m.h = min(side, int(hi.x)+1)-m.x0, min(side, int(hi.y)+1)-m.y0
	m.cover = cleared(m.cover, m.w*m.h)
	m.sums = cleared(m.sums, (m.w+2)*m.h)
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
func (m *mask) edge(a, b point) {
	if a.y == b.y {
		return
	}
	for _, border := range [2]float64{0, float64(m.w)} {
		if (a.x < border) != (b.x < border) && a.x != border && b.x != border {
			c := point{border, a.y + (b.y-a.y)*(border-a.x)/(b.x-a.x)}
			m.edge(a, c)
			m.edge(c, b)
			return
		}
	}
	a.x, b.x = clamp(a.x, 0, float64(m.w)), clamp(b.x, 0, float64(m.w))
	way := float32(1)
	if a.y > b.y {
		a, b, way = b, a, -1
	}
	m.rows(a, b, way)
}

// rows adds an edge that goes down, row by row.
func (m *mask) rows(a, b point, way float32) {
	slope := (b.x - a.x) / (b.y - a.y)
	first, last := max(0, int(math.Floor(a.y))), min(m.h, int(math.Ceil(b.y)))
	for y := first; y < last; y++ {
		top, low := max(float64(y), a.y), min(float64(y+1), b.y)
		x0, x1 := a.x+(top-a.y)*slope, a.x+(low-a.y)*slope
		if x0 > x1 {
			x0, x1 = x1, x0
		}
		m.span(m.sums[y*(m.w+2):(y+1)*(m.w+2)], max(0, x0), min(float64(m.w), x1), -way*float32(low-top))
	}
}

// span adds the piece of an edge within one row, from x0 to x1, that goes through drop of the row's height: each texel that it
// crosses gets the area right of it, those beyond get the drop whole, as steps from texel to texel.
func (m *mask) span(row []float32, x0, x1 float64, drop float32) {
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
func (m *mask) sum() {
	const none = 1e-4 // of a texel: rounding, no area
	for y := range m.h {
		sum := float32(0)
		sums, cover := m.sums[y*(m.w+2):], m.cover[y*m.w:(y+1)*m.w]
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

// depths returns for each texel of the box how far it lies from the outline inward, in texels, by steps along rows, columns and
// diagonals (Borgefors 1986, weights 1 and the square root of 2); 0 where it is not covered.
func (m *mask) depths(out []float32) []float32 {
	out = cleared(out, m.w*m.h)
	for i, c := range m.cover {
		if c == 1 {
			out[i] = 1e6
		} else {
			out[i] = c / 2
		}
	}
	m.sweep(out, 0, 1)
	m.sweep(out, m.h-1, -1)
	return out
}

// sweep passes depths on from row to row, and along each row both ways.
func (m *mask) sweep(out []float32, first, way int) {
	const aslant = 1.41421356
	for y, k := first, 0; k < m.h; y, k = y+way, k+1 {
		row := out[y*m.w : (y+1)*m.w]
		if k > 0 {
			from := out[(y-way)*m.w : (y-way+1)*m.w]
			for x := range row {
				near := from[x] + 1
				if x > 0 {
					near = min(near, from[x-1]+aslant)
				}
				if x < m.w-1 {
					near = min(near, from[x+1]+aslant)
				}
				row[x] = min(row[x], near)
			}
		}
		for x := 1; x < m.w; x++ {
			row[x] = min(row[x], row[x-1]+1)
		}
		for x := m.w - 2; x >= 0; x-- {
			row[x] = min(row[x], row[x+1]+1)
		}
	}
}
