package roots

import "traygauge/vision/synth/relief/num"

// Browning is how roots turn brown in a drawing.
type Browning struct {
	way   browningWay
	share float32 // share of the roots that it takes
	brown num.RGB
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

// newBrowning draws it; in 45 % there is none.
func newBrowning(d num.Dice) Browning {
	b := Browning{share: d.Between(0.1, 1), brown: brown(d), fade: d.Scaled(0.05, 3)}
	b.way = browningWay(d.Pick(0.45, 0.19, 0.1, 0.08, 0.07, 0.04, 0.07))
	return b
}

// brown returns an own colour well beyond the limit of red/green 1.3: tan, orange, red, grey and dark browns.
func brown(d num.Dice) num.RGB {
	switch d.Pick(0.25, 0.33, 0.22, 0.12, 0.08) {
	case 0: // tan
		return num.Hue(d.Between(0.15, 0.33), d.Between(1.45, 1.75), d.Between(0.45, 0.7))
	case 1: // orange
		return num.Hue(d.Between(0.08, 0.25), d.Between(1.7, 2.4), d.Between(0.2, 0.45))
	case 2: // red
		return num.Hue(d.Between(0.04, 0.16), d.Between(1.9, 2.6), d.Between(0.4, 0.8))
	case 3: // grey
		return num.Hue(d.Between(0.06, 0.2), d.Between(1.4, 1.55), d.Between(0.65, 0.85))
	}
	return num.Hue(d.Between(0.02, 0.06), d.Between(1.45, 2.1), d.Between(0.4, 0.75))
}

// ClearOf lightens a brown that would hardly show on the medium, as far as browns go.
func (b *Browning) ClearOf(medium num.RGB) {
	least := min(0.35, float32(1.8*medium.Luminance()))
	if l := b.brown.Luminance(); l < least {
		b.brown = b.brown.Times(least / l)
	}
}

// pale returns an own colour well below that limit: white, cream, ivory, yellowish, pinkish, greyish.
func pale(d num.Dice) num.RGB {
	light := d.Between(0.34, 0.92) // as wide as it may be, so that how light roots are has to be seen in each photo
	switch d.Pick(0.31, 0.34, 0.13, 0.08, 0.07, 0.07) {
	case 0: // white
		return num.Hue(light, d.Between(1, 1.05), d.Between(0.88, 0.99))
	case 1: // cream
		return num.Hue(light, d.Between(1.04, 1.13), d.Between(0.6, 0.85))
	case 2: // ivory
		return num.Hue(light, d.Between(1.08, 1.17), d.Between(0.5, 0.7))
	case 3: // yellowish
		return num.Hue(0.8*light, d.Between(1.06, 1.19), d.Between(0.35, 0.6))
	case 4: // pinkish
		return num.Hue(0.8*light, d.Between(1.12, 1.2), d.Between(0.8, 1))
	}
	return num.Hue(d.Between(0.2, 0.5), d.Between(0.97, 1.12), d.Between(0.75, 1)) // greyish
}

// spans are where one root of the given order and length is brown.
func (b *Browning) spans(d num.Dice, order int, long float32) []span {
	everywhere := span{-1e3, 1e3, 1}
	if b.way == byOrder {
		if (order == 0) == (b.share > 0.4) {
			return []span{everywhere}
		}
		return nil
	}
	if b.way == allWhite || !d.Chance(b.share) {
		return nil
	}
	at, fade := d.Between(0, long), b.fade*d.Between(0.5, 1.5)
	switch b.way {
	case stretches:
		return []span{{at, at + d.Scaled(1, 20), fade}}
	case fromTips:
		return []span{{long - d.Scaled(0.5, 8), 1e3, fade}}
	case fromBase:
		return []span{{-1e3, at, fade}}
	case inRings:
		var rings []span
		for range int(long/3) + 1 {
			s := d.Between(0, long)
			rings = append(rings, span{s, s + d.Between(0.3, 1.2), min(fade, 0.3)})
		}
		return rings
	}
	return []span{everywhere}
}

// paint gives a path its own colours.
func (g *Grower) paint(p *Path) {
	b := &g.Browning
	brown := b.spans(g.Dice, p.order, p.Long())
	white, dark := g.Varied(g.White, 0.12), b.brown.Times(g.Around(0.25))
	// older parts are yellower
	aged := white.Through(num.RGB{R: 1, G: num.Mix(1, 0.93, g.aging), B: num.Mix(1, 0.75, g.aging)}).Times(num.Mix(1, 0.85, g.aging))
	young := g.Between(0.2, 1) * p.Long()
	seed := g.Between(0, 500)
	for i := range p.Points {
		q := &p.Points[i]
		old := num.Clamp(1-q.Along/max(young, 0.1), 0, 1) + float32(0.25*g.Soft.At(q.Along*9, seed))
		own := bounded(white.Toward(aged, old)).Times(1 + float32(0.06*g.Soft.At(seed, q.Along*14)))
		q.Own = own.Toward(dark, most(brown, q.Along))
		q.Own = q.Own.Times(min(1, 0.92/max(q.Own.R, q.Own.G)))
	}
}

// bounded keeps a white root's hue well below the limit to brown.
func bounded(c num.RGB) num.RGB {
	c.R = num.Clamp(c.R, 0.95*c.G, 1.22*c.G)
	return c
}
