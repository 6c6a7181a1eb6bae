package foliage

import "math"

// bench is what the trays stand on.
type bench struct {
	kind  int // 0 even, 1 wood, 2 cloth, 3 concrete
	base  lab
	drop  float64 // mm below the webs
	turn  float64 // direction of boards or threads
	pitch float64 // of boards or threads, mm
	seed  float64
	card  *card
}

func drawBench(d dice) bench {
	b := bench{kind: d.pick(0.3, 0.25, 0.2, 0.25), drop: d.between(20, 55), turn: d.between(0, math.Pi), seed: d.between(0, 99)}
	b.base = lch(d.between(15, 92), d.between(0, 6), d.between(0, 360))
	switch b.kind {
	case 0:
		if d.chance(0.3) {
			b.base = lch(d.between(25, 70), d.between(10, 45), d.between(0, 360))
		}
	case 1:
		b.base, b.pitch = lch(d.between(30, 75), d.between(12, 32), d.between(55, 80)), d.between(40, 140)
	case 2:
		b.base, b.pitch = lch(d.between(12, 85), d.between(0, 35), d.between(0, 360)), d.scaled(0.6, 3)
	}
	return b
}

// lay lays a texel of it, so many mm outside the trays (out is below 0).
func (b *bench) lay(g *ground, i int, x, y, out float64) {
	noise := tiles()
	c := b.base
	s, k := math.Sincos(b.turn)
	p, q := x*k+y*s, y*k-x*s
	h := -b.drop
	switch b.kind {
	case 0:
		c.l += 1.2 * noise.cloud.at(x*0.8, y*0.8)
	case 1:
		board := math.Floor(q / b.pitch)
		ring := noise.cloud.at(p*0.12+board*17+b.seed, q*1.6+board*5)
		c.l += 5*ring + 3*noise.grain.at(p*0.7, q*6) + 8*(hash(int(board), 3, int(b.seed))-0.5)
		gap := math.Abs(q/b.pitch - board - 0.5)
		c.l *= 1 - 0.7*ramp(0.5-0.6/b.pitch, 0.5-0.3/b.pitch, gap)
	case 2:
		weave := math.Sin(2*math.Pi*p/b.pitch) * math.Sin(2*math.Pi*q/b.pitch)
		c.l += 4*weave + 2*noise.grain.nearest(x*5, y*5) + 2*noise.cloud.at(x*0.6, y*0.6)
		h += 0.12 * weave * b.pitch
	default:
		c.l += 3*noise.cloud.at(x*1.1, y*1.1) + 2.5*noise.grain.nearest(x*5, y*5)
		h += 0.12 * noise.grain.nearest(x*5, y*5)
	}
	g.h[i], g.gloss[i] = float32(h), 0.3
	g.paint(i, c.linear(), 1)
	if b.card != nil {
		b.card.lay(g, i, x, y)
	}
}

// card is a piece of white paper with black squares, patches and lines of print, lying beside the tray.
type card struct{ x, y, turn, wide, high, seed float64 }

func (c *card) lay(g *ground, i int, x, y float64) {
	s, k := math.Sincos(c.turn)
	p, q := (x-c.x)*k+(y-c.y)*s, (y-c.y)*k-(x-c.x)*s
	in := min(p, q, c.wide-p, c.high-q)
	if in < -0.1 {
		return
	}
	on := ramp(-0.08, 0.08, in)
	colour := grey(0.97)
	switch bx, by := math.Mod(p, 24), math.Mod(q, 24); {
	case in < 3:
	case bx < 15 && by < 15:
		n := hash(int(p/24), int(q/24), int(c.seed))
		switch {
		case n < 0.35: // a square of black and white fields
			if bx < 2.5 || by < 2.5 || bx > 12.5 || by > 12.5 || hash(int(p/2.5), int(q/2.5), 7) < 0.5 {
				colour = grey(0.03)
			}
		case n < 0.7:
			colour = lch(100*hash(int(p/24), int(q/24), 9), 55*hash(int(p/24), int(q/24), 11), 360*n/0.35).linear()
		case math.Mod(q, 3) < 1.2 && tiles().grain.at(p*3, math.Floor(q/3)*9) > 0.2:
			colour = grey(0.1)
		}
	}
	g.paint(i, colour, on)
	g.h[i] += float32(0.35 * on)
	g.gloss[i] *= float32(1 - 0.7*on)
}
