package ground

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// grains is one kind of particle in a medium.
type grains struct {
	perCM2      float64 // how many lie on a square centimetre
	small, big  float64 // half their length, mm
	flat        float64 // width as a share of length
	height      float64 // as a share of length
	colour      num.Lab
	scatter     float64 // of lightness, L*
	tint        float64 // scatter of the other two axes
	gloss       float64
	pale, share float64 // lightness of a share of them that is much lighter or darker
}

// medium is what the cells are filled with.
type medium struct {
	base    num.Lab
	dull    num.RGB // the same as reflectance, once soaked
	scatter float64 // of the base's lightness, L*
	relief  float64 // mm
	wet     float64 // 0 dry to 1 soaked
	fibres  float64 // for each square centimetre
	fibre   num.Lab
	grains  []grains
	cracks  float64 // for each square centimetre
}

// drawMedium draws a medium; a plain one is peat or coir as most are.
func drawMedium(d num.Dice, plain bool) medium {
	kind := d.Pick(0.5, 0.2, 0.1, 0.07, 0.06, 0.07)
	if plain {
		kind = d.Pick(0.65, 0.35)
	}
	m := medium{scatter: d.Between(2, 5), relief: d.Between(0.25, 0.8), wet: d.Between(0, 1)}
	switch kind {
	case 0: // peat
		c := num.Lch(d.Between(10, 33), d.Between(3, 12), d.Between(58, 80))
		m.base, m.fibres, m.fibre = c, d.Between(0, 9), num.Lch(c.L+d.Between(6, 28), 14, 68)
		m.grains = crumbs(d, c, 0.9)
	case 1: // coir
		c := num.Lch(d.Between(18, 40), d.Between(8, 19), d.Between(55, 72))
		m.base, m.fibres, m.fibre = c, d.Between(8, 45), num.Lch(c.L+d.Between(8, 22), 22, 62)
		m.grains = crumbs(d, c, 0.7)
	case 2: // bark and wood
		c := num.Lch(d.Between(16, 34), d.Between(8, 20), d.Between(45, 65))
		m.base, m.fibres, m.fibre = c, d.Between(2, 20), num.Lch(c.L+20, 20, 65)
		m.grains = append(crumbs(d, c, 1), grains{perCM2: d.Between(4, 18), small: 0.8, big: d.Between(2, 4.5),
			flat: d.Between(0.3, 0.6), height: 0.25,
			colour: num.Lch(c.L+d.Between(0, 18), c.Chroma()+2, 68), scatter: 7, tint: 1.5, gloss: 0.2, pale: 22, share: 0.1})
	case 3: // vermiculite
		c := num.Lch(d.Between(38, 60), d.Between(8, 22), d.Between(62, 82))
		m.base = num.Lch(c.L-18, c.Chroma(), 65)
		m.grains = append(crumbs(d, m.base, 0.6), grains{perCM2: d.Between(60, 140), small: 0.4, big: d.Between(1, 2.2),
			flat: 0.7, height: 0.4, colour: c,
			scatter: 9, tint: 3, gloss: 1.2})
	case 4: // rockwool
		c := num.Lch(d.Between(52, 74), d.Between(8, 22), d.Between(85, 112))
		m.base, m.fibres, m.fibre, m.relief = c, d.Between(120, 260), num.Lch(c.L+8, c.Chroma(), 95), 0.2
	default: // sand and grit
		c := num.Lch(d.Between(40, 68), d.Between(6, 20), d.Between(60, 85))
		m.base, m.relief = c, 0.2
		m.grains = []grains{{perCM2: 600, small: 0.15, big: 0.5, flat: 0.8, height: 0.7, colour: c, scatter: 8, tint: 2,
			gloss: 0.6, pale: 25, share: 0.06},
			{perCM2: d.Between(0, 14), small: 0.8, big: 2.5, flat: 0.8, height: 0.6, colour: num.Lch(c.L, 0.5*c.Chroma(), c.Hue()),
				scatter: 10, tint: 2, gloss: 0.3}}
	}
	if d.Chance(0.45) && kind < 3 {
		m.grains = append(m.grains, grains{perCM2: d.Scaled(0.3, 14), small: 0.4, big: d.Between(0.9, 2.2), flat: 0.85, height: 0.7,
			colour: num.Lch(d.Between(78, 93), d.Between(0, 7), 85), scatter: 4, tint: 1, gloss: 0.1}) // perlite
	}
	if d.Chance(0.15) && kind < 3 {
		m.grains = append(m.grains, grains{perCM2: d.Scaled(1, 30), small: 0.4, big: 1.3, flat: 0.7, height: 0.4,
			colour: num.Lch(d.Between(45, 65), 20, 72), scatter: 8, tint: 3, gloss: 1.2}) // vermiculite
	}
	if d.Chance(0.12) {
		m.grains = append(m.grains, grains{perCM2: d.Scaled(0.1, 0.8), small: 1, big: 1.6, flat: 1, height: 0.9,
			colour: [3]num.Lab{num.Lch(80, 45, 88), num.Lch(55, 45, 145), num.Lch(50, 35, 260)}[d.Pick(0.6, 0.2, 0.2)], scatter: 3, gloss: 1}) // fertiliser
	}
	m.soak()
	return m
}

// crumbs are the crumbs that most media are made of, from 0.1 to a few mm.
func crumbs(d num.Dice, c num.Lab, amount float64) []grains {
	return []grains{
		{perCM2: 280 * amount, small: 0.16, big: 0.5, flat: 0.7, height: 0.7, colour: c, scatter: d.Between(3, 7), tint: 0.7,
			pale: 15, share: 0.03},
		{perCM2: d.Between(20, 80) * amount, small: 0.35, big: d.Between(0.8, 1.6), flat: 0.65, height: d.Between(0.35, 0.7),
			colour:  c,
			scatter: d.Between(3, 6), tint: 0.8, pale: 18, share: 0.03},
		{perCM2: d.Between(0, 6) * amount, small: 1, big: d.Between(1.6, 3), flat: 0.6, height: 0.45, colour: c, scatter: 5, tint: 1},
	}
}

// soak darkens the medium by its wetness and makes it shine.
func (m *medium) soak() {
	dull := func(c *num.Lab) { c.L *= 1 - 0.3*m.wet }
	dull(&m.base)
	dull(&m.fibre)
	m.dull = m.base.Linear()
	for i := range m.grains {
		dull(&m.grains[i].colour)
		m.grains[i].gloss += 1.2 * m.wet * m.wet
	}
}

// layBase lays the medium into a texel at a place in mm: its height, the share of the texel that it has, and how light it is.
func (m *medium) layBase(g *Ground, i int, x, y, height, soil, wet float64) {
	noise := num.Tiles()
	speck := noise.Grain.Nearest(x*6, y*6)
	lighter := max(0.4, (1+m.scatter*(0.7*noise.Cloud.At(x*2.1, y*2.1)+0.6*speck)/(m.base.L+16))*wet)
	g.paint(i, m.dull.Times(lighter*lighter*lighter), soil) // reflectance goes by the cube of L* + 16
	g.soil[i] = float32(soil)
	g.gloss[i] = float32(num.Mixed(float64(g.gloss[i]), 1.2*m.wet*m.wet, soil))
	g.h[i] = float32(height + soil*(m.relief*(0.7*noise.Cloud.At(x*1.3+40, y*1.3)+0.16*speck)))
}

// strew throws the medium's grains and fibres over all places that are soil.
func (m *medium) strew(g *Ground, d num.Dice) {
	area := num.Across * num.Across / 100 // cm²
	for _, k := range m.grains {
		var kinds [64]lump
		for i := range kinds {
			kinds[i] = k.draw(d)
		}
		for range int(k.perCM2 * area) {
			at := d.IntN(num.Side * num.Side)
			if g.soil[at] >= 0.5 {
				g.blob(float64(at%num.Side)+0.5, float64(at/num.Side)+0.5, &kinds[d.Uint64()%64], 0.5)
			}
		}
	}
	for range int(m.fibres * area) {
		x, y := d.Float64()*num.Across, d.Float64()*num.Across
		c := m.fibre
		c.L += 6 * d.Bell()
		long := d.Scaled(1, 7)
		g.thread(d, x, y, d.Between(0, 2*math.Pi), long, d.Between(0.04, 0.13), 0.25, c.Linear(), true)
	}
	m.crack(g, d)
}

// lump is a rounded particle, half-lengths in texels, height in mm.
type lump struct {
	long, wide, sin, cos float64
	height               float64
	colour               num.RGB
	gloss                float64
}

func newLump(long, wide, angle, height float64, c num.RGB, gloss float64) *lump {
	return &lump{long, wide, math.Sin(angle), math.Cos(angle), height, c, gloss}
}

// draw draws one particle of a kind.
func (k *grains) draw(d num.Dice) lump {
	long := k.small * math.Pow(k.big/k.small, d.Float64()*d.Float64()*1.4) * num.PerMM
	c := k.colour
	c.L += k.scatter * d.Bell()
	c.A += k.tint * d.Bell()
	c.B += k.tint * d.Bell()
	if k.share > 0 && d.Chance(k.share) {
		c.L += k.pale
	}
	return *newLump(long, long*k.flat, d.Between(0, math.Pi), k.height*long*k.flat/num.PerMM, c.Linear(), k.gloss)
}

// blob lays a lump at a place in texels, on soil of at least the share given; higher ground hides it.
func (g *Ground) blob(x, y float64, b *lump, soil float64) {
	reach := max(b.long, b.wide) * 1.1
	x0, x1 := int(max(0, x-reach)), int(min(num.Side-1, x+reach+1))
	y0, y1 := int(max(0, y-reach)), int(min(num.Side-1, y+reach+1))
	foot := g.height(int(x), int(y)) - 0.35*b.height
	grain := num.Tiles().Grain
	rough := 0.2
	if b.long < 2.5 {
		rough = 0
	}
	pp, pq, qp, qq := b.cos/b.long, b.sin/b.long, -b.sin/b.wide, b.cos/b.wide
	for j := y0; j <= y1; j++ {
		for i := x0; i <= x1; i++ {
			dx, dy := float64(i)+0.5-x, float64(j)+0.5-y
			p, q := dx*pp+dy*pq, dx*qp+dy*qq
			r := p*p + q*q
			if r >= 1.5 {
				continue
			}
			n := 0.0
			if rough > 0 {
				n = grain.Nearest(x+dx*0.6, y+dy*0.6)
				r += rough * n * r
			}
			at := j*num.Side + i
			if r >= 1 || float64(g.soil[at]) < soil {
				continue
			}
			h := float32(foot + b.height*math.Sqrt(1-r))
			if h <= g.h[at] {
				continue
			}
			g.h[at] = h
			g.gloss[at] = float32(b.gloss)
			k := 1 + 0.4*n*rough
			g.colour[at] = [3]float32{float32(b.colour.R * k), float32(b.colour.G * k), float32(b.colour.B * k)}
		}
	}
}

// thread lays a thin bent fibre, lengths in mm, along which colour and height are laid on.
func (g *Ground) thread(d num.Dice, x, y, angle, long, wide, lift float64, c num.RGB, soilOnly bool) {
	turn := d.Near(0, 0.12)
	const step = 0.12
	for range int(long / step) {
		angle += turn*step*3 + 0.06*d.Bell()
		x, y = x+step*math.Cos(angle), y+step*math.Sin(angle)
		i, j := int(x*num.PerMM), int(y*num.PerMM)
		if x < 0 || y < 0 || i >= num.Side || j >= num.Side {
			return
		}
		at := j*num.Side + i
		if soilOnly && g.soil[at] < 0.5 {
			return
		}
		k := min(1, wide*num.PerMM)
		g.paint(at, c, k)
		g.h[at] += float32(lift * step)
	}
}
