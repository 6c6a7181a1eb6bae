package skin

import "traygauge/vision/synth/foliage/num"

// Complexion is what a crop's tissue looks like in health.
type Complexion struct {
	top, under, young, stalk num.Lab // young is what the youngest leaves are like
	blush                    num.Lab
	blushed, blushStalk      float64
	veinColour               num.Lab
	veinShows                float64
	scatterL, scatterH       float64 // of plants and leaves, L* and degrees
	pale                     pale
	mottle, cells            float64
	gloss, rough, fuzz, dust float64
	thin, bumps              float64
	veinWide                 float64 // of the midrib, of the leaf's length
}

// DrawComplexion draws a crop's colours; plain ones are green.
func DrawComplexion(d num.Dice, plain bool) Complexion {
	hue, l, chroma := num.Clamp(d.Near(127, 5.5), 109, 148), d.Between(28, 52), d.Between(20, 44)
	kind := d.Pick(0.55, 0.1, 0.12, 0.1, 0.08, 0.05)
	if plain {
		kind = d.Pick(0.85, 0.05, 0.1)
	}
	c := Complexion{rough: d.Between(0.22, 0.6), thin: d.Between(0.1, 0.4), bumps: d.Scaled(0.08, 0.75),
		mottle: d.Between(0.4, 2.6), cells: d.Between(0.2, 1.4),
		scatterL: d.Between(0.8, 3), scatterH: d.Between(0.5, 2.5), veinWide: d.Between(0.008, 0.025)}
	switch kind {
	case 1: // very dark
		l, chroma = d.Between(24, 34), d.Between(12, 28)
	case 2: // yellow-green
		hue, l, chroma = d.Between(108, 118), d.Between(48, 66), d.Between(40, 62)
	case 3: // blue-green with wax
		hue, l, chroma, c.fuzz = d.Between(128, 150), d.Between(38, 60), d.Between(8, 24), d.Between(0.1, 0.5)
	case 4: // purple or bronze all over
		c.blush, c.blushed = num.Lch(d.Between(18, 36), d.Between(10, 30), d.PickHue(10, 50, 340, 360)), d.Between(0.5, 1)
	case 5: // pale by birth in places
		c.pale = pale{colour: num.Lch(d.Between(78, 92), d.Between(6, 32), d.Between(98, 115)), feather: d.Between(0.1, 1)}
		if d.Chance(0.6) {
			c.pale.margin = d.Between(0.5, 4)
		} else {
			c.pale.splash = d.Between(0.1, 0.5)
		}
	}
	c.top = num.Lch(l, min(chroma, 0.62*l+14), hue)
	c.under = num.Lch(l+d.Between(5, 15), c.top.Chroma()*d.Between(0.5, 0.85), hue-d.Between(0, 5))
	c.young = num.Lch(min(68, l+d.Between(3, 14)), c.top.Chroma()*d.Between(0.95, 1.25), max(108, hue-d.Between(0, 7)))
	c.stalk = num.Lch(l+d.Between(4, 24), c.top.Chroma()*d.Between(0.45, 1), hue-d.Between(2, 10))
	if d.Chance(0.12) {
		c.stalk = num.Lch(d.Between(75, 90), d.Between(4, 16), d.Between(105, 118))
	}
	c.veinColour, c.veinShows = num.Lch(l+d.Between(4, 24), c.top.Chroma()*d.Between(0.4, 1), hue-d.Between(0, 6)), d.Between(0.2, 1)
	if d.Chance(0.12) {
		c.veinColour = num.Lch(l-d.Between(3, 10), c.top.Chroma(), hue)
	}
	c.red(d, plain)
	c.surface(d)
	return c
}

// Grassy turns to the greens of grasses, from bluish to yellow.
func (c *Complexion) Grassy(d num.Dice) {
	l, chroma, hue := d.Between(26, 58), d.Between(12, 46), d.Between(107, 146)
	for _, k := range []*num.Lab{&c.top, &c.under, &c.young, &c.stalk, &c.veinColour} {
		*k = num.Lch(num.Clamp(k.L-c.top.L+l, 12, 85), chroma*d.Between(0.75, 1.15), hue+d.Between(-4, 3))
	}
}

// Pallor makes seedlings paler or darker than grown leaves are.
func (c *Complexion) Pallor(d num.Dice) {
	lift, turn, fuller := d.Between(-12, 20), d.Between(-12, 3), d.Between(0.6, 1.2)
	for _, k := range []*num.Lab{&c.top, &c.under, &c.young, &c.stalk} {
		*k = num.Lch(num.Clamp(k.L+lift, 16, 80), k.Chroma()*fuller, max(104, k.Hue()+turn))
	}
}

// red gives some crops red stalks, veins or a red blush.
func (c *Complexion) red(d num.Dice, plain bool) {
	if c.blushed > 0 {
		c.stalk, c.blushStalk = c.blush, 0.5
		return
	}
	red := num.Lch(d.Between(25, 42), d.Between(25, 48), d.PickHue(5, 35, 345, 360))
	if d.Chance(0.12) {
		c.stalk = red
		if d.Chance(0.4) {
			c.veinColour, c.veinShows = red, d.Between(0.4, 0.95)
		}
	}
	if !plain && d.Chance(0.1) {
		c.blush, c.blushed = num.Lch(d.Between(22, 40), d.Between(15, 35), d.PickHue(10, 50, 345, 360)), d.Between(0.1, 0.7)
	}
}

func (c *Complexion) surface(d num.Dice) {
	switch d.Pick(0.35, 0.4, 0.25) {
	case 0: // matt
		c.gloss, c.rough = d.Between(0.2, 0.6), d.Between(0.45, 0.7)
	case 1:
		c.gloss, c.rough = d.Between(0.5, 1), d.Between(0.28, 0.5)
	default: // glossy
		c.gloss, c.rough = d.Between(0.8, 1.5), d.Between(0.13, 0.3)
	}
	if d.Chance(0.2) {
		c.fuzz = max(c.fuzz, d.Between(0.1, 0.6))
	}
	if d.Chance(0.1) {
		c.dust = d.Between(0.02, 0.2)
	}
}
