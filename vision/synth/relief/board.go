package relief

// board is what a loose plug lies on: a smooth board, a planed one or cloth.
type board struct {
	solid   uint16
	low     float32 // mm at which it lies
	weave   float32 // mm of a cloth's weave or a board's grain
	acrossX [across]float32
	acrossY [across]float32
}

func (p *palette) newBoard(d dice) *board {
	m := material{owner: ofTray, mottle: d.between(0.02, 0.15), coarse: d.chance(0.5), wrap: 0.1}
	m.own = hue(d.scaled(0.008, 0.06), d.between(0.9, 1.2), d.between(0.75, 1.1))
	if d.chance(0.25) {
		m.own = hue(d.scaled(0.05, 0.4), d.between(0.8, 1.5), d.between(0.4, 1.2))
	}
	if d.chance(0.5) {
		m.gloss, m.polish, m.rough = d.between(0, 0.04), d.count(2, 6), 0.1
	}
	b := &board{solid: p.add(m), low: d.between(-6, -0.5)}
	b.weave = d.scaled(0.003, 0.08)
	threads := d.scaled(0.5, 2.5) // a mm
	for i := range across {
		b.acrossX[i], _ = sinCos(middle(i) * threads)
		b.acrossY[i], _ = sinCos(middle(i) * threads * 0.97)
	}
	if d.chance(0.5) { // grain runs one way
		for i := range across {
			b.acrossY[i] = 1
		}
	}
	return b
}

func (b *board) height(x, y int) float32 { return b.low + float32(b.weave*b.acrossX[x]*b.acrossY[y]) }
