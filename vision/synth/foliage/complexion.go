package foliage

// complexion is what a crop's tissue looks like in health.
type complexion struct {
	top, under, young, stalk lab // young is what the youngest leaves are like
	blush                    lab
	blushed, blushStalk      float64
	veinColour               lab
	veinShows                float64
	scatterL, scatterH       float64 // of plants and leaves, L* and degrees
	pale                     pale
	mottle, cells            float64
	gloss, rough, fuzz, dust float64
	thin, bumps              float64
	veinWide                 float64 // of the midrib, of the leaf's length
}

// drawComplexion draws a crop's colours; plain ones are green.
func drawComplexion(d dice, plain bool) complexion {
	hue, l, chroma := clamp(d.near(127, 5.5), 109, 148), d.between(28, 52), d.between(20, 44)
	kind := d.pick(0.55, 0.1, 0.12, 0.1, 0.08, 0.05)
	if plain {
		kind = d.pick(0.85, 0.05, 0.1)
	}
	c := complexion{rough: d.between(0.22, 0.6), thin: d.between(0.1, 0.4), bumps: d.scaled(0.08, 0.75),
		mottle: d.between(0.4, 2.6), cells: d.between(0.2, 1.4),
		scatterL: d.between(0.8, 3), scatterH: d.between(0.5, 2.5), veinWide: d.between(0.008, 0.025)}
	switch kind {
	case 1: // very dark
		l, chroma = d.between(24, 34), d.between(12, 28)
	case 2: // yellow-green
		hue, l, chroma = d.between(108, 118), d.between(48, 66), d.between(40, 62)
	case 3: // blue-green with wax
		hue, l, chroma, c.fuzz = d.between(128, 150), d.between(38, 60), d.between(8, 24), d.between(0.1, 0.5)
	case 4: // purple or bronze all over
		c.blush, c.blushed = lch(d.between(18, 36), d.between(10, 30), d.pickHue(10, 50, 340, 360)), d.between(0.5, 1)
	case 5: // pale by birth in places
		c.pale = pale{colour: lch(d.between(78, 92), d.between(6, 32), d.between(98, 115)), feather: d.between(0.1, 1)}
		if d.chance(0.6) {
			c.pale.margin = d.between(0.5, 4)
		} else {
			c.pale.splash = d.between(0.1, 0.5)
		}
	}
	c.top = lch(l, min(chroma, 0.62*l+14), hue)
	c.under = lch(l+d.between(5, 15), c.top.chroma()*d.between(0.5, 0.85), hue-d.between(0, 5))
	c.young = lch(min(68, l+d.between(3, 14)), c.top.chroma()*d.between(0.95, 1.25), max(108, hue-d.between(0, 7)))
	c.stalk = lch(l+d.between(4, 24), c.top.chroma()*d.between(0.45, 1), hue-d.between(2, 10))
	if d.chance(0.12) {
		c.stalk = lch(d.between(75, 90), d.between(4, 16), d.between(105, 118))
	}
	c.veinColour, c.veinShows = lch(l+d.between(4, 24), c.top.chroma()*d.between(0.4, 1), hue-d.between(0, 6)), d.between(0.2, 1)
	if d.chance(0.12) {
		c.veinColour = lch(l-d.between(3, 10), c.top.chroma(), hue)
	}
	c.red(d, plain)
	c.surface(d)
	return c
}

// grassy turns to the greens of grasses, from bluish to yellow.
func (c *complexion) grassy(d dice) {
	l, chroma, hue := d.between(26, 58), d.between(12, 46), d.between(107, 146)
	for _, k := range []*lab{&c.top, &c.under, &c.young, &c.stalk, &c.veinColour} {
		*k = lch(clamp(k.l-c.top.l+l, 12, 85), chroma*d.between(0.75, 1.15), hue+d.between(-4, 3))
	}
}

// pallor makes seedlings paler or darker than grown leaves are.
func (c *complexion) pallor(d dice) {
	lift, turn, fuller := d.between(-12, 20), d.between(-12, 3), d.between(0.6, 1.2)
	for _, k := range []*lab{&c.top, &c.under, &c.young, &c.stalk} {
		*k = lch(clamp(k.l+lift, 16, 80), k.chroma()*fuller, max(104, k.hue()+turn))
	}
}

// red gives some crops red stalks, veins or a red blush.
func (c *complexion) red(d dice, plain bool) {
	if c.blushed > 0 {
		c.stalk, c.blushStalk = c.blush, 0.5
		return
	}
	red := lch(d.between(25, 42), d.between(25, 48), d.pickHue(5, 35, 345, 360))
	if d.chance(0.12) {
		c.stalk = red
		if d.chance(0.4) {
			c.veinColour, c.veinShows = red, d.between(0.4, 0.95)
		}
	}
	if !plain && d.chance(0.1) {
		c.blush, c.blushed = lch(d.between(22, 40), d.between(15, 35), d.pickHue(10, 50, 345, 360)), d.between(0.1, 0.7)
	}
}

func (c *complexion) surface(d dice) {
	switch d.pick(0.35, 0.4, 0.25) {
	case 0: // matt
		c.gloss, c.rough = d.between(0.2, 0.6), d.between(0.45, 0.7)
	case 1:
		c.gloss, c.rough = d.between(0.5, 1), d.between(0.28, 0.5)
	default: // glossy
		c.gloss, c.rough = d.between(0.8, 1.5), d.between(0.13, 0.3)
	}
	if d.chance(0.2) {
		c.fuzz = max(c.fuzz, d.between(0.1, 0.6))
	}
	if d.chance(0.1) {
		c.dust = d.between(0.02, 0.2)
	}
}

// pickHue draws a hue in degrees from one of two ranges.
func (d dice) pickHue(a, b, c, e float64) float64 {
	if d.chance(0.5) {
		return d.between(a, b)
	}
	return d.between(c, e)
}

// shifted scatters a colour by steps of lightness and hue.
func (c lab) shifted(l, h float64) lab { return lch(clamp(c.l+l, 5, 95), c.chroma(), c.hue()+h) }
