package brush

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

func newBrowning(d dice) browning {
	if d.chance(0.55) {
		return browning{}
	}
	b := browning{share: d.between(0.05, 0.8), soft: d.ratio(0.1, 6)}
	b.kind = of(d, []weighted[ageing]{{3, whole}, {2, patches}, {2, fromTip}, {2, fromBase}, {0.6, rings}, {1, byOrder}})
	if d.chance(0.12) {
		b.share = 1
	}
	return b
}

// along returns how brown a root is at each of its points, 0..1.
func (b browning) along(d dice, r *root) []float32 {
	out := make([]float32, len(r.points))
	length := r.lengthMM()
	switch b.kind {
	case whole:
		if d.chance(b.share) {
			fill(out, d.between32(0.75, 1))
		}
	case patches:
		b.patches(d, r, out)
	case fromTip, fromBase:
		if d.chance(min(1, 0.3+b.share)) {
			edge, half := float64(length*b.share*d.between(0.2, 1.6)), float64(b.soft*0.5)
			for i := range out {
				s := float64(i) * r.step / perMM
				if b.kind == fromTip {
					s = length - s
				}
				out[i] = 1 - ease(float32(edge-half), float32(edge+half+0.01), float32(s))
			}
		}
	case rings:
		every, thick := d.between(1, 6), d.between(0.2, 0.7)
		for i := range out {
			s := float64(i) * r.step / perMM / every
			if f := s - float64(int(s)); f < thick {
				out[i] = ease(0, 0.2, float32(min(f, thick-f)))
			}
		}
	case byOrder:
		if r.order > 0 == (b.share > 0.4) || d.chance(0.1) {
			fill(out, d.between32(0.7, 1))
		}
	}
	return out
}

// patches browns stretches of a root.
func (b browning) patches(d dice, r *root, out []float32) {
	length := r.lengthMM()
	for n := int(float64(b.share*length/6) + d.Float64()); n > 0; n-- {
		middle, half, soft := float64(length*d.Float64()), d.ratio(0.4, 6), float64(b.soft*0.5)
		depth := d.between32(0.6, 1)
		for i := range out {
			s := float64(i)*r.step/perMM - middle
			v := float32(depth * (1 - ease(float32(half-soft), float32(half+soft+0.01), float32(max(s, -s)))))
			out[i] = max(out[i], v)
		}
	}
}

func fill(v []float32, x float32) {
	for i := range v {
		v[i] = x
	}
}
