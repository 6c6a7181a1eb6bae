package plugs

import (
	"math"
	"math/rand/v2"

	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/num"
)

// PaintDrops lays water drops on whatever is there. A drop is clear: it darkens its upper left a little, gathers light at
// its lower right, and mirrors the lamp in a small spot, which is thing number owner and hides what is under it.
func (p *Plug) PaintDrops(c *canvas.Canvas, r *rand.Rand, mean float64, owner int) {
	for range num.Poisson(r, mean) {
		radius := 0.3 + 0.9*math.Pow(r.Float64(), 2)
		x, y := p.within(r, radius+0.5)
		spot := radius * num.Between(r, 0.12, 0.3)
		sx, sy := x+0.45*radius*canvas.FromUpperLeft[0], y+0.45*radius*canvas.FromUpperLeft[1]
		for ty := y - radius; ty <= y+radius; ty += 1 / c.PerMM {
			half := math.Sqrt(max(0, radius*radius-(ty-y)*(ty-y)))
			for tx := x - half; tx <= x+half; tx += 1 / c.PerMM {
				i := c.Index(tx, ty)
				if i < 0 || c.T[i].Owner() == 0 {
					continue
				}
				if math.Hypot(tx-sx, ty-sy) < spot {
					c.T[i] = canvas.NewTexel(owner, glintTone, 128)
					continue
				}
				toLamp := ((tx-x)*canvas.FromUpperLeft[0] + (ty-y)*canvas.FromUpperLeft[1]) / radius
				t := c.T[i]
				c.T[i] = canvas.NewTexel(t.Owner(), t.Tone(), uint8(min(255, float64(t.Shade())*(0.95-0.3*toLamp))))
			}
		}
	}
}
