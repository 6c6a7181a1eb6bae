package num

import (
	"math"
	"sync"
)

// Tile is a square of noise that repeats without a seam. Its entries are the value and its slopes along x and y, per entry.
type Tile [tileSide * tileSide][3]float32

const (
	tileSide = 256
	tileMask = tileSide - 1
	far      = 1 << 20 // added before rounding down, so that negative places round down too; a multiple of tileSide
)

// Noises are the read-only tiles that all drawings share.
type Noises struct {
	Cloud *Tile // waves of all lengths from 64 entries down, mean 0 and standard deviation 1
	Grain *Tile // waves of 1 to 4 entries, mean 0 and standard deviation 1
	Net   *Tile // 0 on the walls between cells some 11 entries wide, rising to about 1 in their middles
}

// Tiles makes the tiles once, from seeds of their own.
var Tiles = sync.OnceValue(func() Noises {
	return Noises{Cloud: waves(64, 0.6, 1), Grain: waves(4, 0.9, 2), Net: walls(24, 3)}
})

// At returns the tile's value at a place in entries, linear between entries.
func (t *Tile) At(x, y float64) float64 {
	x, y = x+far, y+far
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	top, low := (j&tileMask)*tileSide, ((j+1)&tileMask)*tileSide
	left, right := i&tileMask, (i+1)&tileMask
	a, b := float64(t[top+left][0]), float64(t[top+right][0])
	c, d := float64(t[low+left][0]), float64(t[low+right][0])
	a += (b - a) * fx
	c += (d - c) * fx
	return a + (c-a)*fy
}

// Nearest returns the tile's value at the entry before a place, for noise about as fine as texels.
func (t *Tile) Nearest(x, y float64) float64 {
	return float64(t[(int(y+far)&tileMask)*tileSide+int(x+far)&tileMask][0])
}

// Slope returns the value with its slopes per entry at the nearest entry, which is enough for relief that is only lit.
func (t *Tile) Slope(x, y float64) (v, dx, dy float64) {
	e := &t[(int(y+far)&tileMask)*tileSide+int(x+far)&tileMask]
	return float64(e[0]), float64(e[1]), float64(e[2])
}

// waves sums smooth random lattices from the coarsest cell down to 1 entry, each finer one by the factor weaker.
func waves(coarsest int, factor float64, seed int) *Tile {
	sum := make([]float64, tileSide*tileSide)
	for cell, weight := coarsest, 1.0; cell >= 1; cell, weight = cell/2, weight*factor {
		n := tileSide / cell
		for y := range tileSide {
			j, fy := y/cell, Ramp(0, 1, float64(y%cell)/float64(cell))
			for x := range tileSide {
				i, fx := x/cell, Ramp(0, 1, float64(x%cell)/float64(cell))
				at := func(i, j int) float64 { return Hash(i%n, j%n, seed*100+cell) - 0.5 }
				sum[y*tileSide+x] += weight * Mixed(Mixed(at(i, j), at(i+1, j), fx), Mixed(at(i, j+1), at(i+1, j+1), fx), fy)
			}
		}
	}
	return finished(standardised(sum))
}

// walls is the distance to the second-nearest of scattered points less that to the nearest (Worley 1996, "A cellular texture
// basis function"), with n × n points, one in each square of a lattice.
func walls(n, seed int) *Tile {
	out := make([]float64, tileSide*tileSide)
	cell := float64(tileSide) / float64(n)
	for y := range tileSide {
		for x := range tileSide {
			near, next := math.Inf(1), math.Inf(1)
			ci, cj := int(float64(x)/cell), int(float64(y)/cell)
			for j := cj - 2; j <= cj+2; j++ {
				for i := ci - 2; i <= ci+2; i++ {
					wi, wj := (i+n)%n, (j+n)%n
					px := (float64(i) + 0.1 + 0.8*Hash(wi, wj, seed)) * cell
					py := (float64(j) + 0.1 + 0.8*Hash(wi, wj, seed+50)) * cell
					d := math.Sqrt((px-float64(x))*(px-float64(x)) + (py-float64(y))*(py-float64(y)))
					if d < near {
						near, next = d, near
					} else if d < next {
						next = d
					}
				}
			}
			out[y*tileSide+x] = (next - near) / cell
		}
	}
	return finished(out)
}

func standardised(v []float64) []float64 {
	sum, squares := 0.0, 0.0
	for _, x := range v {
		sum += x
		squares += x * x
	}
	n := float64(len(v))
	mean := sum / n
	deviation := math.Sqrt(squares/n - mean*mean)
	for i := range v {
		v[i] = (v[i] - mean) / deviation
	}
	return v
}

// finished rounds the values to 1/4096, in which processors cannot differ, and adds the slopes.
func finished(v []float64) *Tile {
	t := new(Tile)
	at := func(x, y int) float64 {
		return math.Round(v[(y&tileMask)*tileSide+x&tileMask]*4096) / 4096
	}
	for y := range tileSide {
		for x := range tileSide {
			t[y*tileSide+x] = [3]float32{
				float32(at(x, y)), float32((at(x+1, y) - at(x-1, y)) / 2), float32((at(x, y+1) - at(x, y-1)) / 2),
			}
		}
	}
	return t
}
