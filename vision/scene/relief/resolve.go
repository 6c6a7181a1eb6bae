package relief

import "traygauge/vision/scene/closeup"

// look is how the roots' surface looks in a drawing.
type look struct {
	gloss  float32 // the share of light mirrored straight back
	polish int     // the mirror's exponent is 2 to this power
	wrap   float32 // how far light reaches round
	clear  float32 // share of light that comes through from what lies below
	core   float32 // how much lighter a root is along its middle
	stain  float32 // how much its colour varies along and across
	even   bool    // whether roots are evenly coloured strokes without any shading
	high   float32 // a root's height as a share of its width
}

func newLook(d dice, wet float32) look {
	l := look{wrap: d.between(0.2, 0.8), core: d.between(-0.25, 0.35), stain: d.between(0, 0.14), even: d.chance(0.1), high: d.between(0.6, 1)}
	if d.chance(0.25) {
		l.clear = d.between(0.1, 0.5)
	}
	if d.chance(mix(0.15, 0.9, wet)) {
		l.gloss, l.polish = d.scaled(0.006, 0.04), d.count(3, 7)
	}
	return l
}

// picture lights and labels a whole drawing.
type picture struct {
	shader
	look
	*tubes
	*fuzz
	cast cast
	out  *closeup.Roots
}

func (p *picture) resolve() {
	var patch [across]float32
	for y := range side {
		p.patches.row(2*y, patch[:])
		for x := range side {
			p.texel(x, y, patch[2*x])
		}
	}
}

// texel mixes the light of its samples, and counts what they show.
func (p *picture) texel(x, y int, patch float32) {
	i := y*side + x
	var ground [4]rgb
	var b *block
	if n := p.index[i]; n > 0 {
		b = &p.blocks[n-1]
	}
	light := rgb{}
	plug := 0
	for q := range 4 {
		gx, gy := 2*x+q&1, 2*y+q>>1
		if p.palette[p.solid[gy*across+gx]].owner == ofPlug {
			plug++
		}
		if b == nil || p.clear > 0 || b.shows(q) {
			ground[q] = p.ground(gx, gy, i, patch)
			if p.fuzz != nil {
				ground[q] = ground[q].toward(p.fuzz.light, p.fuzz.share[i])
			}
		}
		light = light.plus(ground[q])
	}
	light = light.times(0.25)
	p.out.Plug[i] = float32(plug) / 4
	if b != nil {
		light = p.mixed(b, x, y, &ground)
	}
	light = light.times(p.cast.at((float32(x)+0.5)*texel, (float32(y)+0.5)*texel))
	p.out.Light[i] = closeup.RGB{light.r, light.g, light.b}
}

// shows reports whether the relief can be seen in one of a texel's quarters.
func (b *block) shows(q int) bool {
	k := q>>1*2*sub + q&1*2
	return b.segment[k] < 0 || b.segment[k+1] < 0 || b.segment[k+sub] < 0 || b.segment[k+sub+1] < 0
}

// mixed is the light of a texel with roots, and sets its labels.
func (p *picture) mixed(b *block, x, y int, ground *[4]rgb) rgb {
	i := y*side + x
	light := rgb{}
	white, brown := 0, 0
	for q := range 4 {
		for k := range 4 {
			at := (q>>1*2+k>>1)*sub + q&1*2 + k&1
			n := b.segment[at]
			if n < 0 {
				light = light.plus(ground[q])
				continue
			}
			px := float32(x)*texel + (float32(at%sub)+0.5)*subEvery
			py := float32(y)*texel + (float32(at/sub)+0.5)*subEvery
			lit, isBrown := p.root(&p.segments[n], px, py, b.z[at], (2*y+q>>1)*across+2*x+q&1, i, ground[q])
			light = light.plus(lit)
			if isBrown {
				brown++
			} else {
				white++
			}
		}
	}
	p.out.White[i], p.out.Brown[i] = float32(white)/subs, float32(brown)/subs
	return light.times(1.0 / subs)
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
	sun, open := p.shades.sun(sample, z), p.hollows.open(texel, z)
	tone := 1 + float32(p.core*(0.5-off)) + float32(p.stain*grain)
	lit = p.lamp.matt(own.times(max(0.3, tone)), n, p.wrap, sun, open)
	if p.clear > 0 {
		lit = lit.toward(under.through(own), float32(p.clear*(1-float32(0.5*off))))
	}
	if p.gloss > 0 {
		k := p.lamp.mirror(n, p.gloss, p.polish, sun, open)
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
