package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// browning is which roots of a drawing are brown, and where along them.
type browning struct {
	share float64 // of roots or of their length
	kind  ageing
	soft  float64 // length of the passage from white to brown, mm
}

// ageing is how browning goes along a root.
type ageing int

const (
	none ageing = iota
	whole
	patches
	fromTip
	fromBase
	rings
	byOrder
)

func newBrowning(d num.Dice) browning {
	if d.Chance(0.45) {
		return browning{}
	}
	b := browning{share: d.Between(0.05, 0.8), soft: d.Ratio(0.1, 6)}
	b.kind = num.Of(d, []num.Weighted[ageing]{{Weight: 3, Thing: whole}, {Weight: 2, Thing: patches}, {Weight: 2, Thing: fromTip},
		{Weight: 2, Thing: fromBase}, {Weight: 0.6, Thing: rings}, {Weight: 1, Thing: byOrder}})
	if d.Chance(0.12) {
		b.share = 1
	}
	return b
}

// along returns how brown a root is at each of its points, 0..1.
func (b browning) along(d num.Dice, r *root) []float32 {
	out := make([]float32, len(r.Points))
	length := r.lengthMM()
	switch b.kind {
	case whole:
		if d.Chance(b.share) {
			fill(out, d.Between32(0.75, 1))
		}
	case patches:
		b.patches(d, r, out)
	case fromTip, fromBase:
		if d.Chance(min(1, 0.3+b.share)) {
			edge, half := float64(length*b.share*d.Between(0.2, 1.6)), float64(b.soft*0.5)
			for i := range out {
				s := float64(i) * r.Step / canvas.PerMM
				if b.kind == fromTip {
					s = length - s
				}
				out[i] = 1 - num.Ease(float32(edge-half), float32(edge+half+0.01), float32(s))
			}
		}
	case rings:
		every, thick := d.Between(1, 6), d.Between(0.2, 0.7)
		for i := range out {
			s := float64(i) * r.Step / canvas.PerMM / every
			if f := s - float64(int(s)); f < thick {
				out[i] = num.Ease(0, 0.2, float32(min(f, thick-f)))
			}
		}
	case byOrder:
		if r.order > 0 == (b.share > 0.4) || d.Chance(0.1) {
			fill(out, d.Between32(0.7, 1))
		}
	}
	return out
}

// patches browns stretches of a root.
func (b browning) patches(d num.Dice, r *root, out []float32) {
	length := r.lengthMM()
	for n := int(float64(b.share*length/6) + d.Float64()); n > 0; n-- {
		middle, half, soft := float64(length*d.Float64()), d.Ratio(0.4, 6), float64(b.soft*0.5)
		depth := d.Between32(0.6, 1)
		for i := range out {
			s := float64(i)*r.Step/canvas.PerMM - middle
			v := float32(depth * (1 - num.Ease(float32(half-soft), float32(half+soft+0.01), float32(max(s, -s)))))
			out[i] = max(out[i], v)
		}
	}
}

func fill(v []float32, x float32) {
	for i := range v {
		v[i] = x
	}
}
