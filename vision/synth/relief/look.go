package relief

import (
	"traygauge/vision/synth/relief/lighting"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
)

// look is how the roots' surface looks in a drawing.
type look struct {
	gloss  float32 // the share of light mirrored straight back
	polish int     // the mirror's exponent is 2 to this power
	wrap   float32 // how far light reaches round
	clear  float32 // share of light that comes through from what lies below
	core   float32 // how much lighter a root is along its middle
	stain  float32 // how much its colour varies along and across
	specks float32 // how strongly specks of soil darken it
	soil   num.RGB // their colour
	even   bool    // whether roots are evenly coloured strokes without any shading
	high   float32 // a root's height as a share of its width
}

func newLook(d num.Dice, wet float32) look {
	l := look{wrap: d.Between(0.3, 1), core: d.Between(-0.25, 0.35), stain: d.Between(0, 0.14), even: d.Chance(0.25), high: d.Between(0.15, 1)}
	if d.Chance(0.25) {
		l.clear = d.Between(0.1, 0.5)
	}
	if d.Chance(0.4) {
		l.specks = d.Between(0.1, 0.8)
	}
	if d.Chance(num.Mix(0.15, 0.9, wet)) {
		l.gloss, l.polish = d.Scaled(0.006, 0.03)+float32(0.04*wet*d.Float32()), d.Count(3, 8)
	}
	return l
}

// root is the light that a place on a root's segment sends back, and whether its own colour there is brown.
func (p *picture) root(s *roots.Segment, x, y, z float32, sample, texel int, under num.RGB) (lit num.RGB, brown bool) {
	px, py := x-s.A.X, y-s.A.Y
	on := num.Clamp(num.Dot(px, py, s.AlongX, s.AlongY), 0, s.Long)
	share := on / s.Long
	own := s.A.Own.Toward(s.B.Own, share)
	brown = own.R > 1.3*own.G
	if p.even {
		return own, brown
	}
	r := num.Mix(s.A.Radius, s.B.Radius, share)
	ex, ey := (px-float32(s.AlongX*on))/r, (py-float32(s.AlongY*on))/r
	off := min(1, num.Dot(ex, ey, ex, ey))
	grain := p.Grit.Near(int((s.A.Along+on)*20)+int(s.Root)*37, int(aside(ex, ey, s)*9)+int(s.Root)*71)
	up := num.Sqrt(1-off) + 0.05
	n := unit(float32(p.high*ex)+float32(0.1*grain), float32(p.high*ey)+float32(0.07*grain), up)
	sun, deep := p.shades.Sun(sample, texel, z), p.hollows.Deep(texel, z)
	tone := 1 + float32(p.core*(0.5-off)) + float32(p.stain*grain)
	own = own.Times(max(0.3, tone))
	if p.specks > 0 {
		own = own.Toward(p.soil, p.specks*num.Smooth(0.9, 1.9, p.Fine.Near(int(x*40), int(y*40))+float32(0.6*grain)))
	}
	lit = p.lamp.Matt(own, n, p.wrap, sun, deep)
	if p.clear > 0 {
		lit = lit.Toward(under.Through(own), float32(p.clear*(1-float32(0.5*off))))
	}
	if p.gloss > 0 {
		k := p.lamp.Mirror(n, p.gloss, p.polish, sun, deep)
		lit = lit.Plus(num.RGB{R: k, G: k, B: k})
	}
	return lit, brown
}

// aside is how far across a root a place lies, from -1 to 1.
func aside(ex, ey float32, s *roots.Segment) float32 {
	return float32(ex*s.AlongY) - float32(ey*s.AlongX)
}

func unit(x, y, z float32) lighting.Slope {
	n := 1 / num.Sqrt(num.Dot3(x, y, z, x, y, z))
	return lighting.Slope{X: x * n, Y: y * n, Z: z * n}
}
