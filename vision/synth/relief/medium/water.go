package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Film fills what lies lower than so many mm below the plug's surface with water, which creeps up on what stands in it.
func (h *Heap) Film(d num.Dice, below float32, floor solids.Material) {
	if len(h.inside) == 0 {
		return
	}
	floor.Own = floor.Own.Times(0.5)
	floor.Gloss, floor.Polish, floor.Rough, floor.Mottle = 0.025, d.Count(6, 9), d.Between(0, 0.03), 0.1
	water := h.Add(floor)
	creep := d.Between(0.03, 0.15) // mm
	scale := num.SoftWave / d.Scaled(3, 12)
	sx, sy := d.Between(0, 500), d.Between(0, 500)
	level := solids.NewCoarse(func(x, y float32) float32 { return float32(0.12 * h.Soft.At(float32(x*scale)+sx, float32(y*scale)+sy)) })
	var pool, swell [solids.Across]float32
	for y := range solids.Across {
		level.Row(y, pool[:])
		h.swell.Row(y, swell[:])
		for x := range solids.Across {
			i := y*solids.Across + x
			if (*h.Palette)[h.Solid[i]].Owner != solids.OfPlug {
				continue
			}
			if over := swell[x] + pool[x] - below - h.Z[i]; over > -creep {
				h.Z[i] += float32((over + creep) * (over + creep) / (4 * creep))
				if over > creep {
					h.Z[i] += over - float32((over+creep)*(over+creep)/(4*creep))
				}
				if over > 0 {
					h.Solid[i] = water
				}
			}
		}
	}
}

// Drops lays drops of water on the plugs. What lies under a drop is hidden: the drop shows the sky, or the medium around it.
func (h *Heap) Drops(d num.Dice, number int, top func(x, y float32) float32) {
	if len(h.inside) == 0 {
		return
	}
	for range number {
		x, y, z := h.spot(0)
		r := d.Scaled(0.12, 1.5)
		m := (*h.Palette)[h.Solid[h.Sample(x, y)]]
		if m.Owner != solids.OfPlug {
			continue
		}
		m.Own = m.Own.Times(d.Between(0.35, 1.1))
		if d.Chance(0.15) {
			m.Own = num.Hue(d.Between(0.1, 0.4), d.Between(0.95, 1.05), d.Between(0.95, 1.1))
		}
		m.Gloss, m.Polish, m.Rough, m.Mottle, m.Wrap, m.Clear = 0.04, d.Count(7, 10), 0, 0.03, 0.1, true
		ax, ay := d.Facing()
		tall := r * d.Between(0.35, 0.8)
		h.Crumb(solids.Crumb{X: x, Y: y, Z: max(z, top(x, y)) - float32(0.15*r), Long: r, Short: r * d.Between(0.7, 1), High: tall,
			AlongX: ax, AlongY: ay, Rough: 0.02, Bump: 0, Solid: h.Add(m)}, h.seed)
	}
}
