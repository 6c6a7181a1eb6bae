// Package plugs paints plugs on a canvas: outline, medium, roots, drops of water. The same seed with a larger length is the same plug, grown
// further. In go seeds and lengths in mm; out come texels, and what can be seen of the roots. It knows nothing of trays and cameras.
package plugs

import (
	"math"
	"math/rand/v2"
	"sync"

	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/num"
)

// Tones of the medium's palette.
const (
	crumbTone   = 0   // to 95: dark to pale crumbs
	fibreTone   = 96  // to 127
	algaeTone   = 128 // to 159
	perliteTone = 160 // to 191
	glintTone   = 192
)

// MediumPalette is the own colours of the medium: bark and coir, so redder than peat.
var MediumPalette = sync.OnceValue(func() *canvas.Palette {
	var p canvas.Palette
	for i := range 96 {
		p[crumbTone+i] = num.Mixed(num.RGB{0.016, 0.010, 0.007}, num.RGB{0.088, 0.055, 0.034}, float64(i)/95)
	}
	for i := range 32 {
		t := float64(i) / 31
		p[fibreTone+i] = num.Mixed(num.RGB{0.075, 0.038, 0.018}, num.RGB{0.17, 0.098, 0.05}, t)
		p[algaeTone+i] = num.Mixed(num.RGB{0.014, 0.032, 0.010}, num.RGB{0.045, 0.10, 0.022}, t)
		p[perliteTone+i] = num.Mixed(num.RGB{0.50, 0.49, 0.47}, num.RGB{0.74, 0.73, 0.71}, t)
	}
	p[glintTone] = canvas.Mirror
	return &p
})

const (
	mediumPerMM = 20
	mediumSide  = 1024 // texels of the tile: 51.2 mm
	mediumMask  = mediumSide - 1
)

// mediumTile is a square of medium that repeats without a seam: smooth light and dark, crumbs of many sizes upon it.
var mediumTile = sync.OnceValue(func() []canvas.Texel {
	r := num.Habit(0x6d656469756d)
	tile := make([]canvas.Texel, mediumSide*mediumSide)
	soft := num.Clouds()
	for i := range tile {
		x, y := i%mediumSide, i/mediumSide
		v := 26 + 9*num.Cloud(soft, float64(x)/2, float64(y)/2) + 7*r.NormFloat64()
		tile[i] = canvas.NewTexel(1, uint8(max(0, min(95, v))), 128)
	}
	for range 22000 {
		crumb(r, tile)
	}
	return tile
})

// crumb lays one rounded piece on the tile, lit from the upper left, with its shadow below right.
func crumb(r *rand.Rand, tile []canvas.Texel) {
	size := 0.06 + 0.75*math.Pow(r.Float64(), 5) // mm, half the length
	a, b := size*mediumPerMM, size*mediumPerMM*num.Between(r, 0.4, 0.95)
	cx, cy := r.Float64()*mediumSide, r.Float64()*mediumSide
	sin, cos := math.Sincos(num.Between(r, 0, math.Pi))
	tone := 2 + 86*math.Pow(r.Float64(), 1.7)
	reach := int(a) + 3
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			u, w := (cos*float64(dx)+sin*float64(dy))/a, (cos*float64(dy)-sin*float64(dx))/b
			d := u*u + w*w
			at := &tile[((int(cy)+dy)&mediumMask)*mediumSide+(int(cx)+dx)&mediumMask]
			switch {
			case d <= 1:
				lit := (float64(dx)*canvas.FromUpperLeft[0] + float64(dy)*canvas.FromUpperLeft[1]) / a
				*at = canvas.NewTexel(1, uint8(tone+6*r.NormFloat64()*0.5+8), canvas.ShadeOf(0.95+0.4*lit-0.2*d*d))
			case d < 2.2 && dx+dy > 0:
				*at = canvas.NewTexel(1, at.Tone(), uint8(float64(at.Shade())*0.62))
			}
		}
	}
}

// Plug is the outline of a plug's face and where it stands, in mm on the card's plane.
type Plug struct {
	X, Y    float64
	outline [360]float64 // distance from the middle, by whole degrees
}

// reach is how far from the plug's middle its outline is in a direction in radians.
func (p *Plug) reach(angle float64) float64 {
	at := angle * 180 / math.Pi
	if at < 0 {
		at += 360
	}
	i := int(at)
	f := at - float64(i)
	return p.outline[i%360]*(1-f) + p.outline[(i+1)%360]*f
}

func (p *Plug) polygon() [][2]float64 {
	points := make([][2]float64, len(p.outline))
	for i, r := range p.outline {
		sin, cos := math.Sincos(num.Rad(float64(i)))
		points[i] = [2]float64{p.X + r*cos, p.Y + r*sin}
	}
	return points
}

// RoundPlug is a plug's bottom: nearly a circle.
func RoundPlug(r *rand.Rand, x, y, diameter float64) *Plug {
	p := &Plug{X: x + 0.5*r.NormFloat64(), Y: y + 0.5*r.NormFloat64()}
	radius := diameter / 2 * (1 + 0.02*max(-2, min(2, r.NormFloat64())))
	p.shape(r, func(float64) float64 { return radius })
	return p
}

// SquarePlug is a plug's top: a square with round corners.
func SquarePlug(r *rand.Rand, x, y, side, corner float64) *Plug {
	p := &Plug{X: x, Y: y}
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
func (p *Plug) shape(r *rand.Rand, base func(angle float64) float64) {
	type wave struct{ n, size, turn float64 }
	waves := make([]wave, 0, 16)
	for n := 2.0; n < 40; n *= 1.35 {
		waves = append(waves, wave{math.Round(n), 0.016 / math.Pow(n, 0.8) * r.NormFloat64(), num.Between(r, 0, 2*math.Pi)})
	}
	for i := range p.outline {
		angle := num.Rad(float64(i))
		f := 1.0
		for _, w := range waves {
			f += w.size * math.Cos(w.n*angle+w.turn)
		}
		p.outline[i] = base(angle) * f
	}
}

// MediumLook is what the medium of one plug looks like.
type MediumLook struct {
	Wet     bool
	Perlite float64
	Algae   float64
}

// PaintMedium fills the plug's outline with medium, then fibres, perlite, algae and glints.
func (p *Plug) PaintMedium(c *canvas.Canvas, r *rand.Rand, look MediumLook) (texels int) {
	tile, soft := mediumTile(), num.Clouds()
	ox, oy := r.IntN(mediumSide), r.IntN(mediumSide)
	scale := mediumPerMM / c.PerMM
	dark := 1.0
	if look.Wet {
		dark = 0.62
	}
	dark *= num.Between(r, 0.85, 1.15)
	ax, ay := num.Between(r, 0, num.CloudSide), num.Between(r, 0, num.CloudSide)
	floor := algaeFloor(look.Algae)
	c.Fill(p.polygon(), func(i int, _, _ float64) {
		texels++
		x, y := i%c.W, i/c.W
		t := tile[(int(float64(y)*scale)+oy)&mediumMask*mediumSide+(int(float64(x)*scale)+ox)&mediumMask]
		tone, shade := t.Tone(), float64(t.Shade())*dark
		if look.Algae > 0 && num.Cloud(soft, ax+float64(x)*0.22*scale, ay+float64(y)*0.22*scale)+0.012*(float64(tone)-30) > floor {
			tone = algaeTone + tone/3
		}
		c.T[i] = canvas.NewTexel(1, tone, uint8(min(255, shade)))
	})
	p.paintFibres(c, r)
	p.paintPerlite(c, r, look.Perlite)
	if look.Wet {
		p.paintGlints(c, r)
	}
	return texels
}

// algaeFloor is the height of the clouds, in standard deviations, above which a share of the medium lies.
func algaeFloor(share float64) float64 {
	return math.Sqrt2 * math.Erfinv(1-2*max(1e-6, min(share, 1-1e-6)))
}

// within returns a point of the plug, no nearer than margin mm to its outline.
func (p *Plug) within(r *rand.Rand, margin float64) (x, y float64) {
	angle := num.Between(r, -math.Pi, math.Pi)
	sin, cos := math.Sincos(angle)
	d := (p.reach(angle) - margin) * math.Sqrt(r.Float64())
	return p.X + d*cos, p.Y + d*sin
}

// paintFibres lays short thin brown fibres of the medium; they are no roots.
func (p *Plug) paintFibres(c *canvas.Canvas, r *rand.Rand) {
	for range 40 {
		x, y := p.within(r, 3)
		heading, bend := num.Between(r, 0, 2*math.Pi), num.Between(r, -0.25, 0.25)
		half := num.Between(r, 0.04, 0.09)
		tone := uint8(fibreTone + r.IntN(32))
		path := make([]canvas.Node, 3+r.IntN(6))
		for i := range path {
			path[i] = canvas.Node{X: x, Y: y, Half: half, Tone: tone}
			x, y = x+0.5*math.Cos(heading), y+0.5*math.Sin(heading)
			heading += bend
		}
		p.strokeInside(c, path)
	}
}

func (p *Plug) strokeInside(c *canvas.Canvas, path []canvas.Node) {
	for _, n := range path {
		if math.Hypot(n.X-p.X, n.Y-p.Y) > p.reach(math.Atan2(n.Y-p.Y, n.X-p.X))-0.3 {
			return
		}
	}
	arc := c.Arc
	c.Arc = nil
	c.Stroke(path, 0.5, 1, canvas.StrokeLight{Flank: 0.8, Slope: 0.15, X: canvas.FromUpperLeft[0], Y: canvas.FromUpperLeft[1]})
	c.Arc = arc
}

// paintPerlite lays pale rough grains.
func (p *Plug) paintPerlite(c *canvas.Canvas, r *rand.Rand, mean float64) {
	for range num.Poisson(r, mean) {
		size := 0.25 + 0.75*math.Pow(r.Float64(), 2)
		x, y := p.within(r, size+0.5)
		turn, tone := num.Between(r, 0, 2*math.Pi), uint8(perliteTone+r.IntN(32))
		points, flat := make([][2]float64, 9), num.Between(r, 0.6, 1)
		for i := range points { // an angular grain: corners of a squeezed circle
			sin, cos := math.Sincos(turn + 2*math.Pi*(float64(i)+num.Between(r, -0.3, 0.3))/9)
			d := size * num.Between(r, 0.82, 1.1)
			points[i] = [2]float64{x + d*cos, y + d*sin*flat}
		}
		c.Darken(x+0.15, y+0.2, size*1.15)
		c.Fill(points, func(i int, tx, ty float64) {
			lit := ((tx-x)*canvas.FromUpperLeft[0] + (ty-y)*canvas.FromUpperLeft[1]) / size
			c.T[i] = canvas.NewTexel(1, tone, canvas.ShadeOf(0.93+0.07*lit+0.05*r.NormFloat64()))
		})
	}
}

// paintGlints lays the small bright mirrors of water between crumbs.
func (p *Plug) paintGlints(c *canvas.Canvas, r *rand.Rand) {
	for range 14 + r.IntN(14) {
		size := 0.06 + 0.2*math.Pow(r.Float64(), 3)
		x, y := p.within(r, 1)
		points := make([][2]float64, 10)
		stretch := num.Between(r, 1, 2)
		for i := range points {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 10)
			points[i] = [2]float64{x + size*stretch*cos, y + size*sin}
		}
		gain := num.Between(r, 0.4, 1.1)
		c.Fill(points, func(i int, _, _ float64) { c.T[i] = canvas.NewTexel(1, glintTone, canvas.ShadeOf(gain)) })
	}
}

// GapShade is the shade of the cup's rim on the plug's edge, deeper toward the lamp.
func (p *Plug) GapShade(x, y float64) float32 {
	dx, dy := x-p.X, y-p.Y
	r := math.Hypot(dx, dy)
	if r < 10 {
		return 1
	}
	in := p.reach(math.Atan2(dy, dx)) - r
	toLamp := (dx*canvas.FromUpperLeft[0] + dy*canvas.FromUpperLeft[1]) / r
	return float32(1 - (0.22+0.16*toLamp)*(1-num.Smooth(in/(1.5+0.8*toLamp))))
}
