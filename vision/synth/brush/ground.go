package brush

// ground is the plugs' medium as it lies before roots grow over it.
type ground struct {
	inside []float32 // distance inside the rims with their crumbs, texels
	relief field     // height of the crumbs, 0..1
	cover  field     // how likely a crumb lies over a root that is sunk into the medium, 0..1, even over whole crumbs
	colour []rgb     // own colour
	shine  []float32 // how glossy a crumb's face is, 0..1, and its tilt
	tilt   [][2]float32
}

// newGround strews the medium over all texels that may be plug.
func newGround(d dice, m *recipe, t *textures, inside []float32) *ground {
	g := &ground{inside: inside, relief: newField(), cover: newField(), colour: make([]rgb, side*side), shine: make([]float32, side*side),
		tilt: make([][2]float32, side*side)}
	strewn := make([]*cells, len(m.crumbs))
	for i, c := range m.crumbs {
		strewn[i] = newCells(d, float64(c.size*perMM), c.stretch)
	}
	bend := d.between32(1, 4)
	var felt field
	if m.felt > 0.15 {
		felt = t.felted(d)
	}
	for i := range inside {
		if inside[i] > -2 {
			g.strew(m, t, strewn, felt, bend, i)
		}
	}
	return g
}

// strew makes one texel of the medium.
func (g *ground) strew(m *recipe, t *textures, strewn []*cells, felt field, bend float32, i int) {
	x, y := float32(i%side)+float32(bend*t.warpX[i]), float32(i/side)+float32(bend*t.warpY[i])
	x, y = x+float32(0.45*t.grain[i]), y+float32(0.45*t.grain.nearest(i%side+77, i/side+31))
	relief, tone, odd := float32(0), float32(0.5), float32(0)
	var tilt [2]float32
	gaps, cover := float32(1), float32(0)
	for k, c := range strewn {
		kind := &m.crumbs[k]
		near, next, crumb := c.near(x, y)
		gap := ease(0, kind.crack, next-near)
		dome := 1 - float32(near*near)
		relief += float32(kind.weight * (float32(0.55*crumb.tone) + float32(0.45*dome)) * (0.6 + float32(0.4*gap)))
		tone += float32(kind.tone * (float32(2*crumb.hue) - 1))
		tilt[0] += float32(kind.tilt * crumb.tilt)
		tilt[1] += float32(kind.tilt * crumb.lean)
		gaps = float32(gaps * (1 - float32(float32(kind.weight*(1-gap))*0.9)))
		if kind.size > 0.3 {
			cover = blend32(cover, float32(0.7*crumb.tone)+float32(0.35*dome), 0.75)
		}
		if kind.size < 1.1 && crumb.hue*crumb.tone < float32(0.25*m.oddly) {
			odd = float32(0.2 + float32(0.5*dome))
		}
	}
	tone += float32(m.dust*t.grain[i]) + float32(m.patchy*t.broad[i])
	if felt != nil {
		tone += float32(m.felt * 0.35 * felt[i])
		relief += float32(m.felt * 0.08 * felt[i])
	}
	g.relief[i], g.cover[i] = within01(relief), within01(cover)
	g.tilt[i] = tilt
	g.shine[i] = gaps
	colour := mix(m.dark, m.pale, max(0, min(1.5, tone)))
	if tone < 0 {
		colour = times(colour, max(0.4, 1+tone))
	}
	g.colour[i] = mix(colour, m.odd, odd)
}

// paint lays the medium on the painting, lit by the lamp.
func (g *ground) paint(p *painting, m *recipe, l *lamp) {
	for i, in := range g.inside {
		if in <= -1 {
			continue
		}
		x, y := i%side, i/side
		left, right := g.relief[i-min(x, 1)], g.relief[i+min(side-1-x, 1)]
		up, down := g.relief[i-side*min(y, 1)], g.relief[i+side*min(side-1-y, 1)]
		dx := float32(m.steep*(right-left)*0.5) + float32(g.tilt[i][0]*0.4)
		dy := float32(m.steep*(down-up)*0.5) + float32(g.tilt[i][1]*0.4)
		if in < 14 { // the rim is rounded off
			ox, oy := outward(g.inside, i)
			fall := float32(-0.7 * (1 - ease(-1, 14, in)))
			dx, dy = dx+float32(ox*fall), dy+float32(oy*fall)
		}
		z := 1 / sqrt32(1+float32(dx*dx)+float32(dy*dy))
		light := l.on(float32(-dx*z), float32(-dy*z), z)
		open := (1 - m.pores) + float32(m.pores*g.shine[i])
		low := 0.45 + float32(0.55*ease(0.05, 0.5, g.relief[i]))
		colour := times(g.colour[i], float32(light*open)*blend32(1, low, m.pores))
		if m.gloss > 0 {
			s := l.mirror(float32(-dx*z), float32(-dy*z), z, 5)
			s = float32(float32(m.gloss*s) * 0.25 * g.shine[i])
			colour = sum(colour, rgb{s, s, s})
		}
		share := rimShare(g.inside, i)
		p.Plug[i] = share
		p.lay(i, share, colour)
	}
}

// rimShare is the share of texel i inside an outline given by distances.
func rimShare(inside []float32, i int) float32 {
	in := inside[i]
	if in > 2 || in < -2 {
		return within01(in)
	}
	x, y := i%side, i/side
	dx := inside[i+min(side-1-x, 1)] - inside[i-min(x, 1)]
	dy := inside[i+side*min(side-1-y, 1)] - inside[i-side*min(y, 1)]
	slope := sqrt32(float32(dx*dx) + float32(dy*dy))
	if slope < 0.2 {
		return within01(in + 0.5)
	}
	return within(in/max(1, 0.5*slope), dx/slope, dy/slope)
}
