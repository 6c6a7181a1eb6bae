package ground

import "traygauge/vision/synth/foliage/num"

// drawEarth draws open ground: loam, clay or sand, dark and wet to pale and dry, with clods, stones, straw and cracks.
func drawEarth(d num.Dice) medium {
	c := num.Lch(d.Between(18, 74), d.Between(2, 17), d.Between(48, 95))
	if d.Chance(0.2) { // as the sky lights it
		c = num.Lch(c.L, d.Between(2, 9), d.Between(230, 290))
	}
	m := medium{base: c, scatter: d.Between(2, 6), relief: d.Scaled(0.2, 2.5), wet: 0.6 * d.Float64() * d.Float64()}
	if d.Chance(0.75) {
		m.grains = crumbs(d, c, d.Between(0.2, 1))
	}
	if d.Chance(0.6) {
		m.grains = append(m.grains, grains{perCM2: d.Scaled(0.2, 6), small: 1, big: d.Between(3, 9), flat: 0.75, height: d.Between(0.3, 0.8), colour: c,
			scatter: 5, tint: 1}) // clods
	}
	if d.Chance(0.5) {
		m.grains = append(m.grains, grains{perCM2: d.Scaled(0.02, 0.6), small: 1, big: d.Between(2, 10), flat: 0.75, height: 0.5,
			colour: num.Lch(d.Between(35, 80), d.Between(1, 10), d.Between(50, 100)), scatter: 9, tint: 2, gloss: 0.3}) // stones
	}
	if d.Chance(0.4) {
		m.fibres, m.fibre = d.Scaled(0.05, 2), num.Lch(d.Between(45, 82), d.Between(10, 26), d.Between(68, 88)) // straw
	}
	if d.Chance(0.35) {
		m.cracks = d.Scaled(0.02, 0.25)
	}
	m.soak()
	return m
}

// crack lays the cracks of drying ground: thin, dark and winding.
func (m *medium) crack(g *Ground, d num.Dice) {
	dark := m.base
	dark.L *= 0.3
	for range int(m.cracks * num.Across * num.Across / 100) {
		x, y := d.Float64()*num.Across, d.Float64()*num.Across
		angle, wide := d.Between(0, 6.3), d.Between(0.15, 0.8)
		for range d.Whole(1, 3) {
			g.thread(d, x, y, angle, d.Scaled(8, 50), wide, -1, dark.Linear(), true)
			x, y = x+d.Near(0, 0.3), y+d.Near(0, 0.3)
		}
	}
}
