package ground

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/num"
)

// bench is what the trays stand on.
type bench struct {
	kind         int
	own, other   closeup.RGB
	fine, broad  num.Plot
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

func benchOf(d num.Dice) bench {
	b := bench{
		kind: d.IntN(topKinds), fine: num.PlotOf(d, num.PerWave, d.Wide(0.5, 2)), broad: num.PlotOf(d, num.PerWave, d.Wide(15, 60)),
		board: d.Between(40, 140), weave: d.Wide(0.5, 1.6), gloss: d.Wide(0.01, 0.3),
	}
	turn := num.Heading(d.Angle())
	b.cos, b.sin = turn.X, turn.Y
	base := num.LCH{L: d.Between(25, 90), C: d.Between(0, 6), H: d.Between(0, 360)}
	switch b.kind {
	case woodTop:
		base = num.LCH{L: d.Between(35, 72), C: d.Between(14, 32), H: d.Between(58, 80)}
	case clothTop:
		base = num.LCH{L: d.Between(12, 88), C: d.Some(0.5, 8, 45), H: d.Between(0, 360)}
	case slatTop:
		base = num.LCH{L: d.Between(40, 80), C: d.Between(0, 5), H: 240}
	}
	b.own, b.other = base.Light(), num.LCH{L: base.L * d.Between(0.5, 0.85), C: base.C, H: base.H - 4}.Light()
	return b
}

// at returns the bench at a place in mm.
func (b *bench) at(p num.Point) soil {
	n := num.Tables()
	x, y := p.X*b.cos-p.Y*b.sin, p.X*b.sin+p.Y*b.cos
	broad := b.broad.In(&n.Rich, x, y)
	s := soil{sun: 1, open: 1, gloss: b.gloss, rough: 0.3}
	share := 0.0
	switch b.kind {
	case plainTop:
		share = 0.12 + 0.1*broad
	case woodTop:
		grain := b.fine.In(&n.Rich, x*0.04, y+1.2*broad)
		share = 0.45 + 0.35*grain + 0.2*broad
		if seam := math.Mod(math.Abs(y)+0.2, b.board); seam < 0.5 {
			share, s.z = 1.6, -0.3
		}
	case clothTop:
		over := num.Wave(x/b.weave) * num.Wave(y/b.weave)
		share, s.z, s.gloss = 0.4-0.35*over+0.1*broad, 0.08*over+0.5*broad, 0
	case stoneTop:
		share = 0.4 + 0.4*b.fine.In(&n.Rich, x, y) + 0.3*broad
		s.gloss = 0
	case slatTop:
		if gap := math.Mod(math.Abs(y), b.board/4); gap < b.board/9 {
			return soil{own: num.Scaled(b.other, 0.15), sun: 0.6, open: 0.4, z: -8, rough: 0.3}
		}
		share = 0.1 + 0.1*b.fine.In(&n.Soft, x*0.05, y)
	}
	s.own = num.Blend(b.own, b.other, float32(num.Clamp(share, 0, 1.6)))
	for k := range s.own {
		s.own[k] = max(0.003, s.own[k])
	}
	return s
}
