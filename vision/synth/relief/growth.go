package relief

// growths lays what grows and settles on a medium: algae, moss, salt.
func (h *heap) growths(d dice, wet float32) {
	if len(h.inside) == 0 {
		return
	}
	if d.chance(0.15) {
		h.algae(d, d.between(0.02, 0.6), wet)
	}
	if d.chance(0.05) {
		h.moss(d, d.scaled(0.01, 0.3))
	}
	if d.chance(0.04) {
		h.salt(d, d.scaled(0.01, 0.2))
	}
}

// tint gives samples of the plug a new material where chance in patches of so many mm says so, as a share of all of them. high
// favours what stands out (or, below 0, what lies low).
func (h *heap) tint(d dice, share, size, high float32, kin []uint16) {
	scale := 32 / size
	sx, sy := d.between(0, 500), d.between(0, 500)
	limit := bellBeyond(share)
	patch := newCoarse(func(x, y float32) float32 { return h.soft.at(float32(x*scale)+sx, float32(y*scale)+sy) })
	seed := d.IntN(1 << 18)
	var row, swell [across]float32
	for y := range across {
		patch.row(y, row[:])
		h.swell.row(y, swell[:])
		for x := range across {
			i := y*across + x
			if (*h.palette)[h.solid[i]].owner != ofPlug {
				continue
			}
			n := h.grit.near(x+seed, y+seed>>9)
			over := clamp((h.z[i]-swell[x])*high, -1, 1)
			if row[x]+float32(0.6*n)+over > limit {
				h.solid[i] = kin[int(abs(n)*2.5)%len(kin)]
			}
		}
	}
}

// bellBeyond is about the limit beyond which the sum of both chances in tint lies with the given share (Tukey's lambda, with the
// usual 4.91 and 0.14; the sum's standard deviation is 1.17).
func bellBeyond(share float32) float32 {
	power := func(v float32) float32 { return exp2(0.14 * log2(clamp(v, 0.001, 0.999))) }
	return 4.91 * (power(1-share) - power(share)) * 1.17
}

func (h *heap) algae(d dice, share, wet float32) {
	m := material{own: hue(d.scaled(0.02, 0.16), d.between(0.3, 0.85), d.between(0.15, 0.5)), owner: ofPlug, mottle: 0.3, wrap: 0.3}
	m.gloss, m.polish, m.rough = 0.02*wet, 5, 0.3
	h.tint(d, share, d.scaled(1.5, 8), d.between(0, 2), h.kin(d, 6, m, 0.35))
}

func (h *heap) moss(d dice, cover float32) {
	m := material{own: hue(d.scaled(0.03, 0.15), d.between(0.4, 0.9), d.between(0.15, 0.4)), owner: ofPlug, mottle: 0.3, wrap: 0.4}
	kin := h.kin(d, 8, m, 0.4)
	for left := h.area * cover; left > 0; {
		x, y, z := h.spot(0)
		size := d.scaled(1, 5)
		left -= float32(size * size)
		for range int(40 * size) {
			dx, dy := d.facing()
			off := size / 2 * sqrt(d.Float32())
			ax, ay := d.facing()
			h.strand(d, strand{x: x + float32(dx*off), y: y + float32(dy*off), z: z + d.between(-0.1, 0.3), alongX: ax, alongY: ay,
				long: d.between(0.3, 1.2), half: d.between(0.03, 0.09), sweep: 0.1, climb: 0.5, solid: d.one(kin)})
		}
	}
}

func (h *heap) salt(d dice, share float32) {
	m := material{own: hue(d.between(0.25, 0.6), d.between(1, 1.12), d.between(0.75, 1)), owner: ofPlug, mottle: 0.3, wrap: 0.3}
	h.tint(d, share, d.scaled(1, 4), 4, h.kin(d, 4, m, 0.4))
}
