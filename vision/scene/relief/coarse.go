package relief

const (
	coarseEvery = 8                           // samples of the height map from node to node
	coarseStep  = float32(step) * coarseEvery // mm
	coarseSide  = across/coarseEvery + 1      // nodes along a side
)

// coarse is a slowly changing quantity at the nodes of a wide grid, linear in between.
type coarse []float32

func newCoarse(at func(x, y float32) float32) coarse {
	c := make(coarse, coarseSide*coarseSide)
	for i := range c {
		c[i] = at(float32(i%coarseSide)*coarseStep, float32(i/coarseSide)*coarseStep)
	}
	return c
}

// row writes the values in the middles of the height map's samples of row y.
func (c coarse) row(y int, out []float32) {
	at := float32((float32(y) + 0.5) / coarseEvery)
	j := int(at)
	top, low, t := c[j*coarseSide:(j+1)*coarseSide], c[(j+1)*coarseSide:(j+2)*coarseSide], at-float32(j)
	left := mix(top[0], low[0], t)
	for i := range coarseSide - 1 {
		right := mix(top[i+1], low[i+1], t)
		rise := (right - left) / coarseEvery
		for k := range coarseEvery {
			out[i*coarseEvery+k] = left + float32(rise*(float32(k)+0.5))
		}
		left = right
	}
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
