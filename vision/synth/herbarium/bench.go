package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// bench is what the trays stand on.
type bench struct {
	kind         int
	own, other   closeup.RGB
	fine, broad  plot
	cos, sin     float64
	board, weave float64 // mm
	gloss        float64
}

const (
	plainTop = iota
	woodTop
	clothTop
	stoneTop
	slatTop
	topKinds
)

func benchOf(d dice) bench {
	b := bench{
		kind: d.IntN(topKinds), fine: plotOf(d, perWave, d.wide(0.5, 2)), broad: plotOf(d, perWave, d.wide(15, 60)),
		board: d.between(40, 140), weave: d.wide(0.5, 1.6), gloss: d.wide(0.01, 0.3),
	}
	turn := heading(d.angle())
	b.cos, b.sin = turn.x, turn.y
	base := lch{d.between(25, 90), d.between(0, 6), d.between(0, 360)}
	switch b.kind {
	case woodTop:
		base = lch{d.between(35, 72), d.between(14, 32), d.between(58, 80)}
	case clothTop:
		base = lch{d.between(12, 88), d.some(0.5, 8, 45), d.between(0, 360)}
	case slatTop:
		base = lch{d.between(40, 80), d.between(0, 5), 240}
	}
	b.own, b.other = base.light(), lch{base.l * d.between(0.5, 0.85), base.c, base.h - 4}.light()
	return b
}

// at returns the bench at a place in mm.
func (b *bench) at(p point) soil {
	n := tables()
	x, y := p.x*b.cos-p.y*b.sin, p.x*b.sin+p.y*b.cos
	broad := b.broad.in(&n.rich, x, y)
	s := soil{sun: 1, open: 1, gloss: b.gloss, rough: 0.3}
	share := 0.0
	switch b.kind {
	case plainTop:
		share = 0.12 + 0.1*broad
	case woodTop:
		grain := b.fine.in(&n.rich, x*0.04, y+1.2*broad)
		share = 0.45 + 0.35*grain + 0.2*broad
		if seam := math.Mod(math.Abs(y)+0.2, b.board); seam < 0.5 {
			share, s.z = 1.6, -0.3
		}
	case clothTop:
		over := wave(x/b.weave) * wave(y/b.weave)
		share, s.z, s.gloss = 0.4-0.35*over+0.1*broad, 0.08*over+0.5*broad, 0
	case stoneTop:
		share = 0.4 + 0.4*b.fine.in(&n.rich, x, y) + 0.3*broad
		s.gloss = 0
	case slatTop:
		if gap := math.Mod(math.Abs(y), b.board/4); gap < b.board/9 {
			return soil{own: scaled(b.other, 0.15), sun: 0.6, open: 0.4, z: -8, rough: 0.3}
		}
		share = 0.1 + 0.1*b.fine.in(&n.soft, x*0.05, y)
	}
	s.own = blend(b.own, b.other, float32(clamp(share, 0, 1.6)))
	for k := range s.own {
		s.own[k] = max(0.003, s.own[k])
	}
	return s
}
