package ground

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// bench is what the trays stand on.
type bench struct {
	kind  int // 0 even, 1 wood, 2 cloth, 3 concrete
	base  num.Lab
	drop  float64 // mm below the webs
	turn  float64 // direction of boards or threads
	pitch float64 // of boards or threads, mm
	seed  float64
	card  *card
}

func drawBench(d num.Dice) bench {
	b := bench{kind: d.Pick(0.3, 0.25, 0.2, 0.25), drop: d.Between(20, 55), turn: d.Between(0, math.Pi), seed: d.Between(0, 99)}
	b.base = num.Lch(d.Between(15, 92), d.Between(0, 6), d.Between(0, 360))
	switch b.kind {
	case 0:
		if d.Chance(0.3) {
			b.base = num.Lch(d.Between(25, 70), d.Between(10, 45), d.Between(0, 360))
		}
	case 1:
		b.base, b.pitch = num.Lch(d.Between(30, 75), d.Between(12, 32), d.Between(55, 80)), d.Between(40, 140)
	case 2:
		b.base, b.pitch = num.Lch(d.Between(12, 85), d.Between(0, 35), d.Between(0, 360)), d.Scaled(0.6, 3)
	}
	return b
}

// lay lays a texel of it, so many mm outside the trays (out is below 0).
func (b *bench) lay(g *Ground, i int, x, y, out float64) {
	noise := num.Tiles()
	c := b.base
	s, k := math.Sincos(b.turn)
	p, q := x*k+y*s, y*k-x*s
	h := -b.drop
	switch b.kind {
	case 0:
		c.L += 1.2 * noise.Cloud.At(x*0.8, y*0.8)
	case 1:
		board := math.Floor(q / b.pitch)
		ring := noise.Cloud.At(p*0.12+board*17+b.seed, q*1.6+board*5)
		c.L += 5*ring + 3*noise.Grain.At(p*0.7, q*6) + 8*(num.Hash(int(board), 3, int(b.seed))-0.5)
		gap := math.Abs(q/b.pitch - board - 0.5)
		c.L *= 1 - 0.7*num.Ramp(0.5-0.6/b.pitch, 0.5-0.3/b.pitch, gap)
	case 2:
		weave := math.Sin(2*math.Pi*p/b.pitch) * math.Sin(2*math.Pi*q/b.pitch)
		c.L += 4*weave + 2*noise.Grain.Nearest(x*5, y*5) + 2*noise.Cloud.At(x*0.6, y*0.6)
		h += 0.12 * weave * b.pitch
	default:
		c.L += 3*noise.Cloud.At(x*1.1, y*1.1) + 2.5*noise.Grain.Nearest(x*5, y*5)
		h += 0.12 * noise.Grain.Nearest(x*5, y*5)
	}
	g.h[i], g.gloss[i] = float32(h), 0.3
	g.paint(i, c.Linear(), 1)
	if b.card != nil {
		b.card.lay(g, i, x, y)
	}
}

// card is a piece of white paper with black squares, patches and lines of print, lying beside the tray.
type card struct{ x, y, turn, wide, high, seed float64 }

func (c *card) lay(g *Ground, i int, x, y float64) {
	s, k := math.Sincos(c.turn)
	p, q := (x-c.x)*k+(y-c.y)*s, (y-c.y)*k-(x-c.x)*s
	in := min(p, q, c.wide-p, c.high-q)
	if in < -0.1 {
		return
	}
	on := num.Ramp(-0.08, 0.08, in)
	colour := num.Grey(0.97)
	switch bx, by := math.Mod(p, 24), math.Mod(q, 24); {
	case in < 3:
	case bx < 15 && by < 15:
		n := num.Hash(int(p/24), int(q/24), int(c.seed))
		switch {
		case n < 0.35: // a square of black and white fields
			if bx < 2.5 || by < 2.5 || bx > 12.5 || by > 12.5 || num.Hash(int(p/2.5), int(q/2.5), 7) < 0.5 {
				colour = num.Grey(0.03)
			}
		case n < 0.7:
			colour = num.Lch(100*num.Hash(int(p/24), int(q/24), 9), 55*num.Hash(int(p/24), int(q/24), 11), 360*n/0.35).Linear()
		case math.Mod(q, 3) < 1.2 && num.Tiles().Grain.At(p*3, math.Floor(q/3)*9) > 0.2:
			colour = num.Grey(0.1)
		}
	}
	g.paint(i, colour, on)
	g.h[i] += float32(0.35 * on)
	g.gloss[i] *= float32(1 - 0.7*on)
}

// drawCard lays a card on a side of the tray.
func drawCard(d num.Dice, where int) *card {
	c := card{turn: 0.1 * d.Bell(), wide: d.Between(80, 160), high: d.Between(50, 110), seed: d.Between(0, 99)}
	along, out := d.Between(-40, 90), d.Between(2, 30)
	switch where {
	case 0:
		c.x, c.y = out-c.wide, along
	case 1:
		c.x, c.y = along, out-c.high
	case 2:
		c.x, c.y = num.Across-out, along
	default:
		c.x, c.y = along, num.Across-out
	}
	return &c
}
