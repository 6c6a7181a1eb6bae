package relief

// browning is how roots turn brown in a drawing.
type browning struct {
	way   browningWay
	share float32 // share of the roots that it takes
	brown rgb
	fade  float32 // mm over which white goes over into brown
}

type browningWay int

const (
	allWhite browningWay = iota
	wholeRoots
	stretches
	fromTips
	fromBase
	inRings
	byOrder
)

// newBrowning draws it; in 55 % there is none.
func newBrowning(d dice) browning {
	b := browning{share: d.between(0.1, 1), brown: brown(d), fade: d.scaled(0.05, 3)}
	b.way = browningWay(d.pick(0.55, 0.15, 0.08, 0.07, 0.06, 0.03, 0.06))
	return b
}

// brown returns an own colour well beyond the limit of red/green 1.3: tan, orange, red, grey and dark browns.
func brown(d dice) rgb {
	switch d.pick(0.25, 0.33, 0.22, 0.12, 0.08) {
	case 0: // tan
		return hue(d.between(0.15, 0.33), d.between(1.45, 1.75), d.between(0.45, 0.7))
	case 1: // orange
		return hue(d.between(0.08, 0.25), d.between(1.7, 2.4), d.between(0.2, 0.45))
	case 2: // red
		return hue(d.between(0.04, 0.16), d.between(1.9, 2.6), d.between(0.4, 0.8))
	case 3: // grey
		return hue(d.between(0.06, 0.2), d.between(1.4, 1.55), d.between(0.65, 0.85))
	}
	return hue(d.between(0.02, 0.06), d.between(1.45, 2.1), d.between(0.4, 0.75))
}

// clearOf lightens a brown that would hardly show on the medium, as far as browns go.
func (c rgb) clearOf(medium rgb) rgb {
	least := min(0.35, float32(1.8*medium.luminance()))
	if l := c.luminance(); l < least {
		return c.times(least / l)
	}
	return c
}

// pale returns an own colour well below that limit: white, cream, ivory, yellowish, pinkish, greyish.
func pale(d dice) rgb {
	light := d.between(0.34, 0.92) // as wide as it may be, so that how light roots are has to be seen in each photo
	switch d.pick(0.31, 0.34, 0.13, 0.08, 0.07, 0.07) {
	case 0: // white
		return hue(light, d.between(1, 1.05), d.between(0.88, 0.99))
	case 1: // cream
		return hue(light, d.between(1.04, 1.13), d.between(0.6, 0.85))
	case 2: // ivory
		return hue(light, d.between(1.08, 1.17), d.between(0.5, 0.7))
	case 3: // yellowish
		return hue(0.8*light, d.between(1.06, 1.19), d.between(0.35, 0.6))
	case 4: // pinkish
		return hue(0.8*light, d.between(1.12, 1.2), d.between(0.8, 1))
	}
	return hue(d.between(0.2, 0.5), d.between(0.97, 1.12), d.between(0.75, 1)) // greyish
}

// spans are where one root of the given order and length is brown.
func (b *browning) spans(d dice, order int, long float32) []span {
	everywhere := span{-1e3, 1e3, 1}
	if b.way == byOrder {
		if (order == 0) == (b.share > 0.4) {
			return []span{everywhere}
		}
		return nil
	}
	if b.way == allWhite || !d.chance(b.share) {
		return nil
	}
	at, fade := d.between(0, long), b.fade*d.between(0.5, 1.5)
	switch b.way {
	case stretches:
		return []span{{at, at + d.scaled(1, 20), fade}}
	case fromTips:
		return []span{{long - d.scaled(0.5, 8), 1e3, fade}}
	case fromBase:
		return []span{{-1e3, at, fade}}
	case inRings:
		var rings []span
		for range int(long/3) + 1 {
			s := d.between(0, long)
			rings = append(rings, span{s, s + d.between(0.3, 1.2), min(fade, 0.3)})
		}
		return rings
	}
	return []span{everywhere}
}

// paint gives a path its own colours.
func (g *grower) paint(p *path) {
	b := &g.browning
	brown := b.spans(g.dice, p.order, p.long())
	white, dark := g.varied(g.white, 0.12), b.brown.times(g.around(0.25))
	aged := white.through(rgb{1, mix(1, 0.93, g.aging), mix(1, 0.75, g.aging)}).times(mix(1, 0.85, g.aging)) // older parts are yellower
	young := g.between(0.2, 1) * p.long()
	seed := g.between(0, 500)
	for i := range p.points {
		q := &p.points[i]
		old := clamp(1-q.along/max(young, 0.1), 0, 1) + float32(0.25*g.soft.at(q.along*9, seed))
		own := white.toward(aged, old).bounded().times(1 + float32(0.06*g.soft.at(seed, q.along*14)))
		q.own = own.toward(dark, most(brown, q.along))
		q.own = q.own.times(min(1, 0.92/max(q.own.r, q.own.g)))
	}
}

// bounded keeps a white root's hue well below the limit to brown.
func (c rgb) bounded() rgb {
	c.r = clamp(c.r, 0.95*c.g, 1.22*c.g)
	return c
}
