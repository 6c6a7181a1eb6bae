package surface

import "math"

// Layer is a grid of samples seen from above: the highest surface on each.
type Layer struct {
	W, H int
	Z    []int32 // height, 1/65536 mm
	Id   []int32 // what lies there
}

const (
	PerZ    = 65536.0
	Nothing = math.MinInt32 // the height where no surface is
)

// NewLayer returns a grid of w × h samples where no surface is.
func NewLayer(w, h int) *Layer {
	l := &Layer{w, h, make([]int32, w*h), make([]int32, w*h)}
	l.Clear()
	return l
}

// Clear takes all surfaces away.
func (l *Layer) Clear() {
	l.Z[0] = Nothing
	for n := 1; n < len(l.Z); n *= 2 {
		copy(l.Z[n:], l.Z[:n])
	}
}

// edge steps down a straight edge row by row, without rounding: the first sample whose middle is not left of it is at.
type edge struct {
	at, over        int // over/den is how far the exact place lies left of at, plus a constant
	step, more, den int
}

// newEdge goes from (x0, y0) to (x1, y1), y1 > y0, in lattice steps; it begins at a row of samples.
func newEdge(x0, y0, x1, y1, row int) edge {
	dx, dy := x1-x0, y1-y0
	den := Lattice * dy
	e := edge{den: den}
	e.at, e.over = divided((x0-Lattice/2)*dy+(row*Lattice+Lattice/2-y0)*dx+den-1, den)
	e.step, e.more = divided(Lattice*dx, den)
	return e
}

func (e *edge) next() {
	e.at += e.step
	e.over += e.more
	if e.over >= e.den {
		e.over -= e.den
		e.at++
	}
}

// divided rounds the quotient down; den is positive.
func divided(n, den int) (quotient, rest int) {
	quotient, rest = n/den, n%den
	if rest < 0 {
		quotient, rest = quotient-1, rest+den
	}
	return quotient, rest
}

// firstRow is the first row of samples at or below y.
func firstRow(y int) int {
	row, _ := divided(y-Lattice/2+Lattice-1, Lattice)
	return row
}

// slanted is a plane's height by place in lattice steps, mm.
type slanted struct{ x, y, z, zx, zy float64 }

// Gate is asked before a sample is taken; nil lets all pass.
type Gate func(i, j int) bool

// Fill draws a triangle with its corners in lattice steps and mm. Of two triangles that share an edge, one alone has each sample on it.
func (l *Layer) Fill(x, y [3]int, z [3]float64, id int32, open Gate) {
	if y[1] < y[0] {
		x[0], x[1], y[0], y[1], z[0], z[1] = x[1], x[0], y[1], y[0], z[1], z[0]
	}
	if y[2] < y[1] {
		x[1], x[2], y[1], y[2], z[1], z[2] = x[2], x[1], y[2], y[1], z[2], z[1]
		if y[1] < y[0] {
			x[0], x[1], y[0], y[1], z[0], z[1] = x[1], x[0], y[1], y[0], z[1], z[0]
		}
	}
	twice := (x[1]-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(y[1]-y[0])
	top, mid, end := max(0, firstRow(y[0])), firstRow(y[1]), min(l.H, firstRow(y[2]))
	if twice == 0 || top >= end {
		return
	}
	plane := planeOf(x, y, z, float64(twice))
	whole := newEdge(x[0], y[0], x[2], y[2], top)
	for row := top; row < end; {
		half, stop := edge{}, end
		if row < mid {
			half, stop = newEdge(x[0], y[0], x[1], y[1], row), min(mid, end)
		} else {
			half = newEdge(x[1], y[1], x[2], y[2], row)
		}
		for ; row < stop; row++ {
			if twice > 0 {
				l.span(row, whole.at, half.at, plane, id, open)
			} else {
				l.span(row, half.at, whole.at, plane, id, open)
			}
			whole.next()
			half.next()
		}
	}
}

// planeOf lays a plane through the corners; a level one through their middle where it is too steep to matter.
func planeOf(x, y [3]int, z [3]float64, twice float64) slanted {
	x1, y1, x2, y2 := float64(x[1]-x[0]), float64(y[1]-y[0]), float64(x[2]-x[0]), float64(y[2]-y[0])
	p := slanted{float64(x[0]), float64(y[0]), z[0], ((z[1]-z[0])*y2 - (z[2]-z[0])*y1) / twice,
		((z[2]-z[0])*x1 - (z[1]-z[0])*x2) / twice}
	const steepest = 4.0 / Lattice
	if math.Abs(p.zx) > steepest || math.Abs(p.zy) > steepest {
		return slanted{z: (z[0] + z[1] + z[2]) / 3}
	}
	return p
}

// span draws the samples of a row from one up to another.
func (l *Layer) span(row, from, to int, p slanted, id int32, open Gate) {
	from, to = max(from, 0), min(to, l.W)
	if from >= to {
		return
	}
	z := int32(math.Round(PerZ * (p.z + p.zx*(float64(from*Lattice+Lattice/2)-p.x) + p.zy*(float64(row*Lattice+Lattice/2)-p.y))))
	step := int32(math.Round(PerZ * Lattice * p.zx))
	zs := l.Z[row*l.W+from : row*l.W+to]
	ids := l.Id[row*l.W+from : row*l.W+to]
	for i := range zs {
		if z > zs[i] && (open == nil || open(from+i, row)) {
			zs[i], ids[i] = z, id
		}
		z += step
	}
}
