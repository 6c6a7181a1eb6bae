package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// board is what a loose plug lies on: a smooth board, a planed one or cloth.
type board struct {
	solid   uint16
	low     float32 // mm at which it lies
	weave   float32 // mm of a cloth's weave or a board's grain
	acrossX [solids.Across]float32
	acrossY [solids.Across]float32
}

func newBoard(d num.Dice, p *solids.Palette) *board {
	m := solids.Material{Owner: solids.OfTray, Mottle: d.Between(0.02, 0.15), Coarse: d.Chance(0.5), Wrap: 0.1}
	m.Own = num.Hue(d.Scaled(0.008, 0.06), d.Between(0.9, 1.2), d.Between(0.75, 1.1))
	if d.Chance(0.25) {
		m.Own = num.Hue(d.Scaled(0.05, 0.4), d.Between(0.8, 1.5), d.Between(0.4, 1.2))
	}
	if d.Chance(0.5) {
		m.Gloss, m.Polish, m.Rough = d.Between(0, 0.04), d.Count(2, 6), 0.1
	}
	b := &board{solid: p.Add(m), low: d.Between(-6, -0.5)}
	b.weave = d.Scaled(0.003, 0.08)
	threads := d.Scaled(0.5, 2.5) // a mm
	for i := range solids.Across {
		b.acrossX[i], _ = num.SinCos(solids.Middle(i) * threads)
		b.acrossY[i], _ = num.SinCos(solids.Middle(i) * threads * 0.97)
	}
	if d.Chance(0.5) { // grain runs one way
		for i := range solids.Across {
			b.acrossY[i] = 1
		}
	}
	return b
}

func (b *board) height(x, y int) float32 { return b.low + float32(b.weave*b.acrossX[x]*b.acrossY[y]) }
