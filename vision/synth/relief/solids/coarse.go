package solids

import "traygauge/vision/synth/relief/num"

const (
	CoarseEvery = 8                           // samples of the height map from node to node
	CoarseStep  = float32(Step) * CoarseEvery // mm
	CoarseSide  = Across/CoarseEvery + 1      // nodes along a side
)

// Coarse is a slowly changing quantity at the nodes of a wide grid.
type Coarse []float32

// NewCoarse takes the quantity at each node; x and y in mm.
func NewCoarse(at func(x, y float32) float32) Coarse {
	c := make(Coarse, CoarseSide*CoarseSide)
	for i := range c {
		c[i] = at(float32(i%CoarseSide)*CoarseStep, float32(i/CoarseSide)*CoarseStep)
	}
	return c
}

// spline holds the weights of three neighbouring nodes for each sample between the middles of two pairs of them: those of the quadratic
// B-spline, whose slopes have no jumps, so that no facets show in gloss.
var spline = func() (w [CoarseEvery][3]float32) {
	for k := range w {
		u := (float32(k)+0.5)/CoarseEvery - 0.5
		w[k] = [3]float32{0.5 * (0.5 - u) * (0.5 - u), 0.75 - float32(u*u), 0.5 * (0.5 + u) * (0.5 + u)}
	}
	return w
}()

// Row writes the values in the middles of the height map's samples of row y.
func (c Coarse) Row(y int, out []float32) {
	const half = CoarseEvery / 2
	j, w := (y+half)/CoarseEvery, spline[(y+half)%CoarseEvery]
	above, on, below := c.nodes(j-1), c.nodes(j), c.nodes(j+1)
	var column [CoarseSide + 2]float32
	for i := range CoarseSide {
		column[i+1] = num.Dot3(above[i], on[i], below[i], w[0], w[1], w[2])
	}
	column[0], column[CoarseSide+1] = column[1], column[CoarseSide]
	for i := range CoarseSide {
		a, b, c, first := column[i], column[i+1], column[i+2], i*CoarseEvery-half
		for k := max(0, -first); k < CoarseEvery && first+k < Across; k++ {
			out[first+k] = num.Dot3(a, b, c, spline[k][0], spline[k][1], spline[k][2])
		}
	}
}

// nodes is row j of the grid, or the nearest to it.
func (c Coarse) nodes(j int) []float32 {
	j = min(CoarseSide-1, max(0, j))
	return c[j*CoarseSide : (j+1)*CoarseSide]
}

// At is the value at a place; beyond the drawing it is that of the nearest edge.
func (c Coarse) At(x, y float32) float32 {
	x = num.Clamp(x/CoarseStep, 0, CoarseSide-1.001)
	y = num.Clamp(y/CoarseStep, 0, CoarseSide-1.001)
	ix, iy := int(x), int(y)
	i := iy*CoarseSide + ix
	top := num.Mix(c[i], c[i+1], x-float32(ix))
	low := num.Mix(c[i+CoarseSide], c[i+CoarseSide+1], x-float32(ix))
	return num.Mix(top, low, y-float32(iy))
}

// Evened mixes each node with the four around it.
func (c Coarse) Evened() Coarse {
	out := make(Coarse, len(c))
	for i := range out {
		x, y := i%CoarseSide, i/CoarseSide
		left, right := y*CoarseSide+max(0, x-1), y*CoarseSide+min(CoarseSide-1, x+1)
		up, down := max(0, y-1)*CoarseSide+x, min(CoarseSide-1, y+1)*CoarseSide+x
		out[i] = float32(0.4*c[i]) + float32(0.15*(c[left]+c[right]+c[up]+c[down]))
	}
	return out
}
