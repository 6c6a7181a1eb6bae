package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Growths lays what grows and settles on a medium: algae, moss, salt.
func (h *Heap) Growths(d num.Dice, wet float32) {
	if len(h.inside) == 0 {
		return
	}
	if d.Chance(0.15) {
		h.algae(d, d.Between(0.02, 0.6), wet)
	}
	if d.Chance(0.05) {
		h.moss(d, d.Scaled(0.01, 0.3))
	}
	if d.Chance(0.04) {
		h.salt(d, d.Scaled(0.01, 0.2))
	}
}

// tint gives samples of the plug a new material where chance in patches of so many mm says so, as a share of all of them. high
// favours what stands out (or, below 0, what lies low).
func (h *Heap) tint(d num.Dice, share, size, high float32, kin []uint16) {
	scale := num.SoftWave / size
	sx, sy := d.Between(0, 500), d.Between(0, 500)
	limit := bellBeyond(share)
	patch := solids.NewCoarse(func(x, y float32) float32 { return h.Soft.At(float32(x*scale)+sx, float32(y*scale)+sy) })
	seed := d.Place()
	var row, swell [solids.Across]float32
	for y := range solids.Across {
		patch.Row(y, row[:])
		h.swell.Row(y, swell[:])
		for x := range solids.Across {
			i := y*solids.Across + x
			if (*h.Palette)[h.Solid[i]].Owner != solids.OfPlug {
				continue
			}
			n := h.Grit.Near(x+seed, y+seed>>9)
			over := num.Clamp((h.Z[i]-swell[x])*high, -1, 1)
			if row[x]+float32(0.6*n)+over > limit {
				h.Solid[i] = kin[int(num.Abs(n)*2.5)%len(kin)]
			}
		}
	}
}

// bellBeyond is about the limit beyond which the sum of both chances in tint lies with the given share (Tukey's lambda, with the
// usual 4.91 and 0.14; the sum's standard deviation is 1.17).
func bellBeyond(share float32) float32 {
	power := func(v float32) float32 { return num.Exp2(0.14 * num.Log2(num.Clamp(v, 0.001, 0.999))) }
	return 4.91 * (power(1-share) - power(share)) * 1.17
}

func (h *Heap) algae(d num.Dice, share, wet float32) {
	m := solids.Material{Own: num.Hue(d.Scaled(0.02, 0.16), d.Between(0.3, 0.85), d.Between(0.15, 0.5)), Owner: solids.OfPlug, Mottle: 0.3, Wrap: 0.3}
	m.Gloss, m.Polish, m.Rough = 0.02*wet, 5, 0.3
	h.tint(d, share, d.Scaled(1.5, 8), d.Between(0, 2), h.Kin(d, 6, m, 0.35))
}

func (h *Heap) moss(d num.Dice, cover float32) {
	m := solids.Material{Own: num.Hue(d.Scaled(0.03, 0.15), d.Between(0.4, 0.9), d.Between(0.15, 0.4)), Owner: solids.OfPlug, Mottle: 0.3, Wrap: 0.4}
	kin := h.Kin(d, 8, m, 0.4)
	for left := h.Area * cover; left > 0; {
		x, y, z := h.spot(0)
		size := d.Scaled(1, 5)
		left -= float32(size * size)
		for range int(40 * size) {
			dx, dy := d.Facing()
			off := size / 2 * num.Sqrt(d.Float32())
			ax, ay := d.Facing()
			h.Strand(d, solids.Strand{X: x + float32(dx*off), Y: y + float32(dy*off), Z: z + d.Between(-0.1, 0.3), AlongX: ax, AlongY: ay,
				Long: d.Between(0.3, 1.2), Half: d.Between(0.03, 0.09), Sweep: 0.1, Climb: 0.5, Solid: d.One(kin)})
		}
	}
}

func (h *Heap) salt(d num.Dice, share float32) {
	m := solids.Material{Own: num.Hue(d.Between(0.25, 0.6), d.Between(1, 1.12), d.Between(0.75, 1)), Owner: solids.OfPlug, Mottle: 0.3, Wrap: 0.3}
	h.tint(d, share, d.Scaled(1, 4), 4, h.Kin(d, 4, m, 0.4))
}
