package relief

// look is how the roots' surface looks in a drawing.
type look struct {
	gloss  float32 // the share of light mirrored straight back
	polish int     // the mirror's exponent is 2 to this power
	wrap   float32 // how far light reaches round
	clear  float32 // share of light that comes through from what lies below
	core   float32 // how much lighter a root is along its middle
	stain  float32 // how much its colour varies along and across
	specks float32 // how strongly specks of soil darken it
	soil   rgb     // their colour
	even   bool    // whether roots are evenly coloured strokes without any shading
	high   float32 // a root's height as a share of its width
}

func newLook(d dice, wet float32) look {
	l := look{wrap: d.between(0.3, 1), core: d.between(-0.25, 0.35), stain: d.between(0, 0.14), even: d.chance(0.25), high: d.between(0.15, 1)}
	if d.chance(0.25) {
		l.clear = d.between(0.1, 0.5)
	}
	if d.chance(0.4) {
		l.specks = d.between(0.1, 0.8)
	}
	if d.chance(mix(0.15, 0.9, wet)) {
		l.gloss, l.polish = d.scaled(0.006, 0.03)+float32(0.04*wet*d.Float32()), d.count(3, 8)
	}
	return l
}

// root is the light that a place on a root's segment sends back, and whether its own colour there is brown.
func (p *picture) root(s *segment, x, y, z float32, sample, texel int, under rgb) (lit rgb, brown bool) {
	px, py := x-s.a.x, y-s.a.y
	on := clamp(dot(px, py, s.alongX, s.alongY), 0, s.long)
	share := on / s.long
	own := s.a.own.toward(s.b.own, share)
	brown = own.r > 1.3*own.g
	if p.even {
		return own, brown
	}
	r := mix(s.a.radius, s.b.radius, share)
	ex, ey := (px-float32(s.alongX*on))/r, (py-float32(s.alongY*on))/r
	off := min(1, dot(ex, ey, ex, ey))
	grain := p.grit.near(int((s.a.along+on)*20)+int(s.root)*37, int(aside(ex, ey, s)*9)+int(s.root)*71)
	up := sqrt(1-off) + 0.05
	n := unit(float32(p.high*ex)+float32(0.1*grain), float32(p.high*ey)+float32(0.07*grain), up)
	sun, deep := p.shades.sun(sample, texel, z), p.hollows.deep(texel, z)
	tone := 1 + float32(p.core*(0.5-off)) + float32(p.stain*grain)
	own = own.times(max(0.3, tone))
	if p.specks > 0 {
		own = own.toward(p.soil, p.specks*smooth(0.9, 1.9, p.fine.near(int(x*40), int(y*40))+float32(0.6*grain)))
	}
	lit = p.lamp.matt(own, n, p.wrap, sun, deep)
	if p.clear > 0 {
		lit = lit.toward(under.through(own), float32(p.clear*(1-float32(0.5*off))))
	}
	if p.gloss > 0 {
		k := p.lamp.mirror(n, p.gloss, p.polish, sun, deep)
		lit = lit.plus(rgb{k, k, k})
	}
	return lit, brown
}

// aside is how far across a root a place lies, from -1 to 1.
func aside(ex, ey float32, s *segment) float32 { return float32(ex*s.alongY) - float32(ey*s.alongX) }

func unit(x, y, z float32) slope {
	n := 1 / sqrt(dot3(x, y, z, x, y, z))
	return slope{x * n, y * n, z * n}
}
