package relief

const (
	coarseEvery = 8                           // samples of the height map from node to node
	coarseStep  = float32(step) * coarseEvery // mm
	coarseSide  = across/coarseEvery + 1      // nodes along a side
)

// coarse is a slowly changing quantity at the nodes of a wide grid.
type coarse []float32

func newCoarse(at func(x, y float32) float32) coarse {
	c := make(coarse, coarseSide*coarseSide)
	for i := range c {
		c[i] = at(float32(i%coarseSide)*coarseStep, float32(i/coarseSide)*coarseStep)
	}
	return c
}

// spline holds the weights of three neighbouring nodes for each sample between the middles of two pairs of them: those of the quadratic
// B-spline, whose slopes have no jumps, so that no facets show in gloss.
var spline = func() (w [coarseEvery][3]float32) {
	for k := range w {
		u := (float32(k)+0.5)/coarseEvery - 0.5
		w[k] = [3]float32{0.5 * (0.5 - u) * (0.5 - u), 0.75 - float32(u*u), 0.5 * (0.5 + u) * (0.5 + u)}
	}
	return w
}()

// row writes the values in the middles of the height map's samples of row y.
func (c coarse) row(y int, out []float32) {
	const half = coarseEvery / 2
	j, w := (y+half)/coarseEvery, spline[(y+half)%coarseEvery]
	above, on, below := c.nodes(j-1), c.nodes(j), c.nodes(j+1)
	var column [coarseSide + 2]float32
	for i := range coarseSide {
		column[i+1] = dot3(above[i], on[i], below[i], w[0], w[1], w[2])
	}
	column[0], column[coarseSide+1] = column[1], column[coarseSide]
	for i := range coarseSide {
		a, b, c, first := column[i], column[i+1], column[i+2], i*coarseEvery-half
		for k := max(0, -first); k < coarseEvery && first+k < across; k++ {
			out[first+k] = dot3(a, b, c, spline[k][0], spline[k][1], spline[k][2])
		}
	}
}

// nodes is row j of the grid, or the nearest to it.
func (c coarse) nodes(j int) []float32 {
	j = min(coarseSide-1, max(0, j))
	return c[j*coarseSide : (j+1)*coarseSide]
}

// at is the value at a place; beyond the drawing it is that of the nearest edge.
func (c coarse) at(x, y float32) float32 {
	x = clamp(x/coarseStep, 0, coarseSide-1.001)
	y = clamp(y/coarseStep, 0, coarseSide-1.001)
	ix, iy := int(x), int(y)
	i := iy*coarseSide + ix
	top := mix(c[i], c[i+1], x-float32(ix))
	low := mix(c[i+coarseSide], c[i+coarseSide+1], x-float32(ix))
	return mix(top, low, y-float32(iy))
}
