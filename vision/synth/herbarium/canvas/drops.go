package canvas

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/num"
)

// Drops are water drops on leaves, and on the ground. Each is a small lens; labels do not change below it.
type Drops struct {
	many      int
	small     float64 // mm across
	large     float64
	onGround  bool
	glint     float64
	lensed    []closeup.RGB // scratch
	lensedSky []closeup.RGB
}

// DropsOf draws the drops; four of five drawings have none.
func DropsOf(d num.Dice) Drops {
	if !d.Chance(0.2) {
		return Drops{}
	}
	k := Drops{many: int(d.Wide(30, 2500)), small: d.Between(0.3, 0.7), onGround: d.Chance(0.4), glint: d.Wide(0.4, 3.5)}
	k.large = d.Wide(k.small, 4)
	if k.large > 2 {
		k.many = min(k.many, 500)
	}
	return k
}

// Paint lays the drops where they find room.
func (k *Drops) Paint(d num.Dice, c *Canvas) {
	for range k.many {
		r := d.Wide(k.small, max(k.small, k.large)) / 2 * c.PerMM
		p := num.At(d.Between(r+2, float64(c.Side)-r-2), d.Between(r+2, float64(c.Side)-r-2))
		stretch := d.Between(0.8, 1.25)
		if k.fits(c, p, r) {
			k.drop(c, p, r, stretch)
		}
	}
}

// fits reports whether a drop lies whole on one plant, or whole on the ground where drops may.
func (k *Drops) fits(c *Canvas, p num.Point, r float64) bool {
	middle := int(p.Y)*c.Side + int(p.X)
	for a := range 8 {
		q := p.Plus(num.Heading(float64(a) * math.Pi / 4).Times(r + 1.5))
		i := int(q.Y)*c.Side + int(q.X)
		onLeaf := c.Leaf[i] > 0.999 && c.Plant[i] == c.Plant[middle] && c.Leaf[middle] > 0.999
		onGround := k.onGround && c.Leaf[i] == 0 && c.Leaf[middle] == 0
		if !onLeaf && !onGround || math.Abs(float64(c.Z[i]-c.Z[middle])) > 1.5 {
			return false
		}
	}
	return true
}

// drop lays one drop of the given radius in texels.
func (k *Drops) drop(c *Canvas, p num.Point, r, stretch float64) {
	x0, x1, y0, y1 := int(p.X-1.3*r-2), int(p.X+1.3*r+3), int(p.Y-1.3*r-2), int(p.Y+1.3*r+3)
	x0, y0, x1, y1 = max(0, x0), max(0, y0), min(c.Side, x1), min(c.Side, y1)
	w := x1 - x0
	k.lensed, k.lensedSky = k.lensed[:0], k.lensedSky[:0]
	for y := y0; y < y1; y++ {
		k.lensed = append(k.lensed, c.Light[y*c.Side+x0:y*c.Side+x1]...)
		k.lensedSky = append(k.lensedSky, c.Sky[y*c.Side+x0:y*c.Side+x1]...)
	}
	lx, ly := c.Lamp.toward[0], c.Lamp.toward[1]
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			u, v := (float64(x)+0.5-p.X)/r*stretch, (float64(y)+0.5-p.Y)/r/stretch
			far := math.Sqrt(u*u + v*v)
			share := num.Clamp((1-far)*r+0.5, 0, 1)
			i := y*c.Side + x
			if share == 0 {
				k.shadow(c, i, u+0.5*lx, v+0.5*ly)
				continue
			}
			bend := 0.75 + 0.25*far*far // the lens shows what lies nearer its middle
			sx, sy := int(p.X+u*bend*r/stretch), int(p.Y+v*bend*r*stretch)
			j := (min(max(sy, y0), y1-1)-y0)*w + min(max(sx, x0), x1-1) - x0
			k.lens(c, i, float32(share), k.lensed[j], k.lensedSky[j], u, v, far)
		}
	}
}

// lens shades one texel within a drop: dark toward the lamp, bright on the far side, where the light gathers, a glint on top.
func (k *Drops) lens(c *Canvas, i int, share float32, sun, sky closeup.RGB, u, v, far float64) {
	lx, ly := c.Lamp.toward[0], c.Lamp.toward[1]
	away := -(u*lx + v*ly)
	sun = num.Scaled(sun, float32(max(0.08, 0.95+1.1*away*far))*float32(1-0.35*num.Ease(0.75, 1, far)))
	sky = num.Scaled(sky, float32(0.95-0.3*num.Ease(0.7, 1, far)))
	gx, gy := u-0.62*lx, v-0.62*ly
	width := 0.12 + 0.35*c.Lamp.Soft
	glint := float32(k.glint * c.Lamp.Sun * (1 - num.Ease(0.5, 1.2, math.Sqrt(gx*gx+gy*gy)/width)) * min(1, c.Lamp.Sun*1.5))
	lit := float32(0.02)
	for n := range 3 {
		sun[n] += glint
		sky[n] += lit * float32(c.Lamp.Sky)
	}
	c.Light[i], c.Sky[i] = over(c.Light[i], sun, share), over(c.Sky[i], sky, share)
}

// shadow darkens what lies beside a drop.
func (k *Drops) shadow(c *Canvas, i int, u, v float64) {
	dark := 0.45 * (1 - num.Ease(0.7, 1.1, math.Sqrt(u*u+v*v)))
	c.Light[i] = num.Scaled(c.Light[i], float32(1-dark))
}
