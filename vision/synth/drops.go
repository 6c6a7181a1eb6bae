package synth

import (
	"math"
	"math/rand/v2"
)

// paintDrops lays water drops on whatever is there. A drop is clear: it darkens its upper left a little, gathers light at
// its lower right, and mirrors the lamp in a small spot, which is thing number owner and hides what is under it.
func (p *plug) paintDrops(c *canvas, r *rand.Rand, mean float64, owner int) {
	for range poisson(r, mean) {
		radius := 0.3 + 0.9*math.Pow(r.Float64(), 2)
		x, y := p.within(r, radius+0.5)
		spot := radius * between(r, 0.12, 0.3)
		sx, sy := x+0.45*radius*fromUpperLeft[0], y+0.45*radius*fromUpperLeft[1]
		for ty := y - radius; ty <= y+radius; ty += 1 / c.perMM {
			half := math.Sqrt(max(0, radius*radius-(ty-y)*(ty-y)))
			for tx := x - half; tx <= x+half; tx += 1 / c.perMM {
				i := c.index(tx, ty)
				if i < 0 || c.t[i].owner() == 0 {
					continue
				}
				if math.Hypot(tx-sx, ty-sy) < spot {
					c.t[i] = newTexel(owner, glintTone, 128)
					continue
				}
				toLamp := ((tx-x)*fromUpperLeft[0] + (ty-y)*fromUpperLeft[1]) / radius
				t := c.t[i]
				c.t[i] = newTexel(t.owner(), t.tone(), uint8(min(255, float64(t.shade())*(0.95-0.3*toLamp))))
			}
		}
	}
}
