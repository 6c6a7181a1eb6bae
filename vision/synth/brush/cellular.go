package brush

import "math"

// cells is cellular noise after Worley, "A cellular texture basis function", SIGGRAPH 1996: points scattered one to a cell of a
// grid, which repeats after n cells.
type cells struct {
	n      int // a power of two
	size   float32
	turn   vec // the direction along which cells are stretched
	long   float32
	points []point
}

type point struct {
	x, y       float32 // within the cell, 0..1
	tone, hue  float32 // the crumb's own, 0..1
	tilt, lean float32 // the slope of the crumb's face, -1..1 each
}

// newCells scatters points size texels apart; stretched above 1 makes cells longer along a random direction and narrower across.
func newCells(d dice, size, stretched float64) *cells {
	n := 16
	for float64(n)*size < 1.2*side && n < 128 {
		n *= 2
	}
	long := math.Sqrt(stretched)
	c := &cells{n: n, size: float32(size), turn: d.direction(), long: float32(long), points: make([]point, n*n)}
	for i := range c.points {
		a, b := d.Uint64(), d.Uint64()
		c.points[i] = point{part(a), part(a >> 16), part(a >> 32), part(a >> 48), 2*part(b) - 1, 2*part(b>>16) - 1}
	}
	return c
}

// part is an even draw from 0 to 1 in 16 bits.
func part(bits uint64) float32 { return float32(bits&0xffff) / 0xffff }

// near returns the distances to the nearest and to the second nearest point, in cells, and the nearest point itself.
func (c *cells) near(x, y float32) (first, second float32, at *point) {
	tx, ty := float32(c.turn.x), float32(c.turn.y)
	u := (float32(x*tx)+float32(y*ty))/(c.size*c.long) + 4096
	v := (float32(y*tx)-float32(x*ty))*c.long/c.size + 4096
	iu, iv := int(u), int(v)
	fu, fv := u-float32(iu), v-float32(iv)
	best, next := float32(9), float32(9)
	mask := c.n - 1
	for _, dv := range [3]int{0, -1, 1} {
		if dv < 0 && float32(fv*fv) > next || dv > 0 && float32((1-fv)*(1-fv)) > next {
			continue // no point of that row is near enough
		}
		row := c.points[((iv+dv)&mask)*c.n:][:c.n]
		ey := float32(dv) - fv
		for du := -1; du <= 1; du++ {
			p := &row[(iu+du)&mask]
			ex, ey := float32(du)-fu+p.x, ey+p.y
			dist := float32(ex*ex) + float32(ey*ey)
			if dist < best {
				next, best, at = best, dist, p
			} else if dist < next {
				next = dist
			}
		}
	}
	return sqrt32(best), sqrt32(next), at
}
