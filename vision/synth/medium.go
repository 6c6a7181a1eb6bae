package synth

import (
	"math"
	"math/rand/v2"
	"sync"
)

// Tones of the medium's palette.
const (
	crumbTone   = 0   // to 95: dark to pale crumbs
	fibreTone   = 96  // to 127
	algaeTone   = 128 // to 159
	perliteTone = 160 // to 191
	glintTone   = 192
)

// mediumPalette is the own colours of the medium: bark and coir, so redder than peat.
var mediumPalette = sync.OnceValue(func() *palette {
	var p palette
	for i := range 96 {
		p[crumbTone+i] = mixed(rgb{0.016, 0.010, 0.007}, rgb{0.088, 0.055, 0.034}, float64(i)/95)
	}
	for i := range 32 {
		t := float64(i) / 31
		p[fibreTone+i] = mixed(rgb{0.075, 0.038, 0.018}, rgb{0.17, 0.098, 0.05}, t)
		p[algaeTone+i] = mixed(rgb{0.014, 0.032, 0.010}, rgb{0.045, 0.10, 0.022}, t)
		p[perliteTone+i] = mixed(rgb{0.50, 0.49, 0.47}, rgb{0.74, 0.73, 0.71}, t)
	}
	p[glintTone] = mirror
	return &p
})

// mirror is the lamp as water shows it.
var mirror = rgb{0.95, 0.97, 1}

const (
	mediumPerMM = 20
	mediumSide  = 1024 // texels of the tile: 51.2 mm
	mediumMask  = mediumSide - 1
)

// mediumTile is a square of medium that repeats without a seam: smooth light and dark, crumbs of many sizes upon it.
var mediumTile = sync.OnceValue(func() []texel {
	r := habit(0x6d656469756d)
	tile := make([]texel, mediumSide*mediumSide)
	soft := clouds()
	for i := range tile {
		x, y := i%mediumSide, i/mediumSide
		v := 26 + 9*cloud(soft, float64(x)/2, float64(y)/2) + 7*r.NormFloat64()
		tile[i] = newTexel(1, uint8(max(0, min(95, v))), 128)
	}
	for range 22000 {
		crumb(r, tile)
	}
	return tile
})

// crumb lays one rounded piece on the tile, lit from the upper left, with its shadow below right.
func crumb(r *rand.Rand, tile []texel) {
	size := 0.06 + 0.75*math.Pow(r.Float64(), 5) // mm, half the length
	a, b := size*mediumPerMM, size*mediumPerMM*between(r, 0.4, 0.95)
	cx, cy := r.Float64()*mediumSide, r.Float64()*mediumSide
	sin, cos := math.Sincos(between(r, 0, math.Pi))
	tone := 2 + 86*math.Pow(r.Float64(), 1.7)
	reach := int(a) + 3
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			u, w := (cos*float64(dx)+sin*float64(dy))/a, (cos*float64(dy)-sin*float64(dx))/b
			d := u*u + w*w
			at := &tile[((int(cy)+dy)&mediumMask)*mediumSide+(int(cx)+dx)&mediumMask]
			switch {
			case d <= 1:
				lit := (float64(dx)*fromUpperLeft[0] + float64(dy)*fromUpperLeft[1]) / a
				*at = newTexel(1, uint8(tone+6*r.NormFloat64()*0.5+8), shadeOf(0.95+0.4*lit-0.2*d*d))
			case d < 2.2 && dx+dy > 0:
				*at = newTexel(1, at.tone(), uint8(float64(at.shade())*0.62))
			}
		}
	}
}

// plug is the outline of a plug's face and where it stands, in mm on the card's plane.
type plug struct {
	x, y    float64
	outline [360]float64 // distance from the middle, by whole degrees
}

// reach is how far from the plug's middle its outline is in a direction in radians.
func (p *plug) reach(angle float64) float64 {
	at := angle * 180 / math.Pi
	if at < 0 {
		at += 360
	}
	i := int(at)
	f := at - float64(i)
	return p.outline[i%360]*(1-f) + p.outline[(i+1)%360]*f
}

func (p *plug) polygon() [][2]float64 {
	points := make([][2]float64, len(p.outline))
	for i, r := range p.outline {
		sin, cos := math.Sincos(rad(float64(i)))
		points[i] = [2]float64{p.x + r*cos, p.y + r*sin}
	}
	return points
}

// roundPlug is a plug's bottom: nearly a circle.
func roundPlug(r *rand.Rand, x, y, diameter float64) *plug {
	p := &plug{x: x + 0.5*r.NormFloat64(), y: y + 0.5*r.NormFloat64()}
	radius := diameter / 2 * (1 + 0.02*max(-2, min(2, r.NormFloat64())))
	p.shape(r, func(float64) float64 { return radius })
	return p
}

// squarePlug is a plug's top: a square with round corners.
func squarePlug(r *rand.Rand, x, y, side, corner float64) *plug {
	p := &plug{x: x, y: y}
	p.shape(r, func(angle float64) float64 { return squareReach(angle, side/2, corner) })
	return p
}

// squareReach is the distance from the middle to the edge of a square with round corners.
func squareReach(angle, half, corner float64) float64 {
	sin, cos := math.Sincos(angle)
	sin, cos = math.Abs(sin), math.Abs(cos)
	if sin > cos {
		sin, cos = cos, sin
	}
	straight := half / cos
	inner := half - corner
	if straight*sin <= inner {
		return straight
	}
	// Where the ray meets the corner's circle.
	along := inner * (cos + sin)
	return along + math.Sqrt(along*along-2*inner*inner+corner*corner)
}

// shape roughens an outline with a few slow waves and many small ones.
func (p *plug) shape(r *rand.Rand, base func(angle float64) float64) {
	type wave struct{ n, size, turn float64 }
	waves := make([]wave, 0, 16)
	for n := 2.0; n < 40; n *= 1.35 {
		waves = append(waves, wave{math.Round(n), 0.016 / math.Pow(n, 0.8) * r.NormFloat64(), between(r, 0, 2*math.Pi)})
	}
	for i := range p.outline {
		angle := rad(float64(i))
		f := 1.0
		for _, w := range waves {
			f += w.size * math.Cos(w.n*angle+w.turn)
		}
		p.outline[i] = base(angle) * f
	}
}

// mediumLook is what the medium of one plug looks like.
type mediumLook struct {
	wet     bool
	perlite float64
	algae   float64
}

// paintMedium fills the plug's outline with medium, then fibres, perlite, algae and glints.
func (p *plug) paintMedium(c *canvas, r *rand.Rand, look mediumLook) (texels int) {
	tile, soft := mediumTile(), clouds()
	ox, oy := r.IntN(mediumSide), r.IntN(mediumSide)
	scale := mediumPerMM / c.perMM
	dark := 1.0
	if look.wet {
		dark = 0.62
	}
	dark *= between(r, 0.85, 1.15)
	ax, ay := between(r, 0, cloudSide), between(r, 0, cloudSide)
	floor := algaeFloor(look.algae)
	c.fill(p.polygon(), func(i int, _, _ float64) {
		texels++
		x, y := i%c.w, i/c.w
		t := tile[(int(float64(y)*scale)+oy)&mediumMask*mediumSide+(int(float64(x)*scale)+ox)&mediumMask]
		tone, shade := t.tone(), float64(t.shade())*dark
		if look.algae > 0 && cloud(soft, ax+float64(x)*0.22*scale, ay+float64(y)*0.22*scale)+0.012*(float64(tone)-30) > floor {
			tone = algaeTone + tone/3
		}
		c.t[i] = newTexel(1, tone, uint8(min(255, shade)))
	})
	p.paintFibres(c, r)
	p.paintPerlite(c, r, look.perlite)
	if look.wet {
		p.paintGlints(c, r)
	}
	return texels
}

// algaeFloor is the height of the clouds, in standard deviations, above which a share of the medium lies.
func algaeFloor(share float64) float64 {
	return math.Sqrt2 * math.Erfinv(1-2*max(1e-6, min(share, 1-1e-6)))
}

// within returns a point of the plug, no nearer than margin mm to its outline.
func (p *plug) within(r *rand.Rand, margin float64) (x, y float64) {
	angle := between(r, -math.Pi, math.Pi)
	sin, cos := math.Sincos(angle)
	d := (p.reach(angle) - margin) * math.Sqrt(r.Float64())
	return p.x + d*cos, p.y + d*sin
}

// paintFibres lays short thin brown fibres of the medium; they are no roots.
func (p *plug) paintFibres(c *canvas, r *rand.Rand) {
	for range 40 {
		x, y := p.within(r, 3)
		heading, bend := between(r, 0, 2*math.Pi), between(r, -0.25, 0.25)
		half := between(r, 0.04, 0.09)
		tone := uint8(fibreTone + r.IntN(32))
		path := make([]node, 3+r.IntN(6))
		for i := range path {
			path[i] = node{x, y, half, tone}
			x, y = x+0.5*math.Cos(heading), y+0.5*math.Sin(heading)
			heading += bend
		}
		p.strokeInside(c, path)
	}
}

func (p *plug) strokeInside(c *canvas, path []node) {
	for _, n := range path {
		if math.Hypot(n.x-p.x, n.y-p.y) > p.reach(math.Atan2(n.y-p.y, n.x-p.x))-0.3 {
			return
		}
	}
	arc := c.arc
	c.arc = nil
	c.stroke(path, 0.5, 1, strokeLight{flank: 0.8, slope: 0.15, x: fromUpperLeft[0], y: fromUpperLeft[1]})
	c.arc = arc
}

// paintPerlite lays pale rough grains.
func (p *plug) paintPerlite(c *canvas, r *rand.Rand, mean float64) {
	for range poisson(r, mean) {
		size := 0.25 + 0.75*math.Pow(r.Float64(), 2)
		x, y := p.within(r, size+0.5)
		turn, tone := between(r, 0, 2*math.Pi), uint8(perliteTone+r.IntN(32))
		points, flat := make([][2]float64, 9), between(r, 0.6, 1)
		for i := range points { // an angular grain: corners of a squeezed circle
			sin, cos := math.Sincos(turn + 2*math.Pi*(float64(i)+between(r, -0.3, 0.3))/9)
			d := size * between(r, 0.82, 1.1)
			points[i] = [2]float64{x + d*cos, y + d*sin*flat}
		}
		c.darken(x+0.15, y+0.2, size*1.15)
		c.fill(points, func(i int, tx, ty float64) {
			lit := ((tx-x)*fromUpperLeft[0] + (ty-y)*fromUpperLeft[1]) / size
			c.t[i] = newTexel(1, tone, shadeOf(0.93+0.07*lit+0.05*r.NormFloat64()))
		})
	}
}

// darken is the shadow of a small thing: a disc of the medium loses half its light.
func (c *canvas) darken(x, y, radius float64) {
	for ty := y - radius; ty <= y+radius; ty += 1 / c.perMM {
		half := math.Sqrt(max(0, radius*radius-(ty-y)*(ty-y)))
		for tx := x - half; tx <= x+half; tx += 1 / c.perMM {
			if i := c.index(tx, ty); i >= 0 && c.t[i].owner() == 1 {
				c.t[i] = newTexel(1, c.t[i].tone(), c.t[i].shade()/2)
			}
		}
	}
}

// paintGlints lays the small bright mirrors of water between crumbs.
func (p *plug) paintGlints(c *canvas, r *rand.Rand) {
	for range 14 + r.IntN(14) {
		size := 0.06 + 0.2*math.Pow(r.Float64(), 3)
		x, y := p.within(r, 1)
		points := make([][2]float64, 10)
		stretch := between(r, 1, 2)
		for i := range points {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 10)
			points[i] = [2]float64{x + size*stretch*cos, y + size*sin}
		}
		gain := between(r, 0.4, 1.1)
		c.fill(points, func(i int, _, _ float64) { c.t[i] = newTexel(1, glintTone, shadeOf(gain)) })
	}
}

// poisson draws a number by Knuth's product of uniforms (1969, The Art of Computer Programming 2, 3.4.1).
func poisson(r *rand.Rand, mean float64) int {
	n, limit := 0, math.Exp(-min(mean, 200))
	for product := r.Float64(); product > limit; product *= r.Float64() {
		n++
	}
	return n
}
