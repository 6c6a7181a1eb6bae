package texture

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// Cells is cellular noise after Worley, "A cellular texture basis function", SIGGRAPH 1996: points scattered one to a cell of a
// grid, which repeats after n cells.
type Cells struct {
	n      int // a power of two
	size   float32
	turn   num.Vec // the direction along which cells are stretched
	long   float32
	points []Point
}

// Point is a cell's own point, and what its crumb has by chance.
type Point struct {
	x, y       float32 // within the cell, 0..1
	Tone, Hue  float32 // the crumb's own, 0..1
	Tilt, Lean float32 // the slope of the crumb's face, -1..1 each
}

// NewCells scatters points size texels apart; stretched above 1 makes cells longer along a random direction and narrower across.
func NewCells(d num.Dice, size, stretched float64) *Cells {
	n := 16
	for float64(n)*size < 1.2*canvas.Side && n < 128 {
		n *= 2
	}
	long := math.Sqrt(stretched)
	c := &Cells{n: n, size: float32(size), turn: d.Direction(), long: float32(long), points: make([]Point, n*n)}
	for i := range c.points {
		a, b := d.Uint64(), d.Uint64()
		c.points[i] = Point{part(a), part(a >> 16), part(a >> 32), part(a >> 48), 2*part(b) - 1, 2*part(b>>16) - 1}
	}
	return c
}

// part is an even draw from 0 to 1 in 16 bits.
func part(bits uint64) float32 { return float32(bits&0xffff) / 0xffff }

// Near returns the distances to the nearest and to the second nearest point, in cells, and the nearest point itself.
func (c *Cells) Near(x, y float32) (first, second float32, at *Point) {
	tx, ty := float32(c.turn.X), float32(c.turn.Y)
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
	return num.Sqrt32(best), num.Sqrt32(next), at
}
