package num

import (
	"math"
	"math/rand/v2"
	"sync"
)

// The noises are read from square tables that repeat without a seam. They are made once, from a seed of their own.
const (
	tableSide = 256
	PerCell   = 16 // table samples across one cell of the cell table
	PerWave   = 8  // table samples across one wave of the soft table
)

// Table is a square of samples that repeats.
type Table [tableSide * tableSide]float32

// At returns the table between its samples.
func (t *Table) At(x, y float64) float32 {
	i, j := int(x*65536), int(y*65536)
	fx, fy := float32(i&65535)*(1.0/65536), float32(j&65535)*(1.0/65536)
	x0, y0 := (i>>16)&(tableSide-1), (j>>16)&(tableSide-1)
	x1, y1 := (x0+1)&(tableSide-1), ((y0+1)&(tableSide-1))*tableSide
	y0 *= tableSide
	top := t[y0+x0] + (t[y0+x1]-t[y0+x0])*fx
	low := t[y1+x0] + (t[y1+x1]-t[y1+x0])*fx
	return top + (low-top)*fy
}

// cell is what the plane of cells is at a sample.
type cell struct {
	far  float32 // distance to the nearest cell's middle: 0 there, about 1 at the border
	wall float32 // distance to the nearest border between cells, as far
	kind float32 // one number from 0 to 1 for each cell
}

// CellTable is a square of a plane of cells that repeats.
type CellTable [tableSide * tableSide]cell

// At returns the cells between the samples; of their kinds, that of the nearest sample.
func (t *CellTable) At(x, y float64) (far, wall, kind float64) {
	i, j := int(x*65536), int(y*65536)
	fx, fy := float32(i&65535)*(1.0/65536), float32(j&65535)*(1.0/65536)
	x0, y0 := (i>>16)&(tableSide-1), (j>>16)&(tableSide-1)
	x1, y1 := (x0+1)&(tableSide-1), ((y0+1)&(tableSide-1))*tableSide
	y0 *= tableSide
	a, b, c, d := &t[y0+x0], &t[y0+x1], &t[y1+x0], &t[y1+x1]
	between := func(a, b, c, d float32) float64 {
		top, low := a+(b-a)*fx, c+(d-c)*fx
		return float64(top + (low-top)*fy)
	}
	nearest := a
	if fx > 0.5 {
		nearest = b
	}
	return between(a.far, b.far, c.far, d.far), between(a.wall, b.wall, c.wall, d.wall), float64(nearest.kind)
}

// Noises are the tables.
type Noises struct {
	Soft  Table // one wave length, mean 0, mostly within ±1
	Rich  Table // waves, and waves half, a quarter, an eighth as long on them; mean 0, mostly within ±1
	Cells CellTable
}

// Tables makes the tables once.
var Tables = sync.OnceValue(func() *Noises {
	d := Dice{rand.New(rand.NewPCG(0x68657262, 0x617269756d))}
	n := new(Noises)
	n.Soft = waves(d, PerWave)
	n.Rich = n.Soft
	for size, k := PerWave/2, 1; size >= 1; size, k = size/2, k+1 {
		finer, share := waves(d, size), float32(math.Pow(0.55, float64(k)))
		for i := range n.Rich {
			n.Rich[i] += share * finer[i]
		}
	}
	n.Cells.fill(d)
	return n
})

// waves returns smooth noise with one random number every size samples.
func waves(d Dice, size int) (t Table) {
	n := tableSide / size
	knots := make([]float64, n*n)
	for i := range knots {
		knots[i] = d.Between(-1, 1)
	}
	knot := func(x, y int) float64 { return knots[(y%n)*n+x%n] }
	for y := range tableSide {
		for x := range tableSide {
			x0, y0 := x/size, y/size
			fx, fy := Ease(0, float64(size), float64(x%size)), Ease(0, float64(size), float64(y%size))
			top := Mix(knot(x0, y0), knot(x0+1, y0), fx)
			low := Mix(knot(x0, y0+1), knot(x0+1, y0+1), fx)
			t[y*tableSide+x] = float32(Mix(top, low, fy))
		}
	}
	return t
}

// fill makes the table, of a plane split into cells of uneven shape, each with a middle of its own. Their borders wander.
func (t *CellTable) fill(d Dice) {
	aside, down := waves(d, PerWave), waves(d, PerWave)
	fineAside, fineDown := waves(d, PerWave/4), waves(d, PerWave/4)
	const across = tableSide / PerCell
	var middles [across * across]Point
	var kinds [across * across]float32
	for i := range middles {
		middles[i] = Point{d.Between(0.1, 0.9), d.Between(0.1, 0.9)}
		kinds[i] = float32(d.Float64())
	}
	for i := range t {
		p := Point{float64(i%tableSide) / PerCell, float64(i/tableSide) / PerCell}
		p.X += 0.22*float64(aside[i]) + 0.06*float64(fineAside[i])
		p.Y += 0.22*float64(down[i]) + 0.06*float64(fineDown[i])
		first, second, whose := math.Inf(1), math.Inf(1), 0
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				cx, cy := int(math.Floor(p.X))+dx, int(math.Floor(p.Y))+dy
				k := (cy+across)%across*across + (cx+across)%across
				away := p.Minus(Point{float64(cx), float64(cy)}).Minus(middles[k]).Length()
				if away < first {
					first, second, whose = away, first, k
				} else if away < second {
					second = away
				}
			}
		}
		t[i] = cell{float32(first), float32(second - first), kinds[whose]}
	}
}

// Plot is a noise's place and turn over a surface, so that no two surfaces show the same part of a table alike.
type Plot struct{ Cos, sin, X, Y float64 }

// PlotOf returns a plot at random in which a wave or cell of the table, of the given samples, is size units of the surface across.
func PlotOf(d Dice, samples, size float64) Plot {
	h := Heading(d.Angle()).Times(samples / size)
	return Plot{h.X, h.Y, d.Between(0, tableSide), d.Between(0, tableSide)}
}

// On returns where in the table a place of the surface lies.
func (p Plot) On(x, y float64) (u, v float64) {
	return p.Cos*x - p.sin*y + p.X, p.sin*x + p.Cos*y + p.Y
}

// In returns the table's value at a place of the surface.
func (p Plot) In(t *Table, x, y float64) float64 {
	return float64(t.At(p.On(x, y)))
}

// Wave is a wave of length 1 and height 1, near enough to a sine.
func Wave(x float64) float64 {
	x -= math.Floor(x)
	x = 2*x - 1
	return 4 * x * (math.Abs(x) - 1)
}
