package relief

// film fills what lies lower than so many mm below the plug's surface with water, which creeps up on what stands in it.
func (h *heap) film(d dice, below float32, floor material) {
	if len(h.inside) == 0 {
		return
	}
	floor.own = floor.own.times(0.5)
	floor.gloss, floor.polish, floor.rough, floor.mottle = 0.025, d.count(6, 9), d.between(0, 0.03), 0.1
	water := h.add(floor)
	creep := d.between(0.03, 0.15) // mm
	scale := 32 / d.scaled(3, 12)
	sx, sy := d.between(0, 500), d.between(0, 500)
	level := newCoarse(func(x, y float32) float32 { return float32(0.12 * h.soft.at(float32(x*scale)+sx, float32(y*scale)+sy)) })
	var pool, swell [across]float32
	for y := range across {
		level.row(y, pool[:])
		h.swell.row(y, swell[:])
		for x := range across {
			i := y*across + x
			if (*h.palette)[h.solid[i]].owner != ofPlug {
				continue
			}
			if over := swell[x] + pool[x] - below - h.z[i]; over > -creep {
				h.z[i] += float32((over + creep) * (over + creep) / (4 * creep))
				if over > creep {
					h.z[i] += over - float32((over+creep)*(over+creep)/(4*creep))
				}
				if over > 0 {
					h.solid[i] = water
				}
			}
		}
	}
}

// drops lays drops of water on the plugs. What lies under a drop is hidden: the drop shows the sky, or the medium around it.
func (h *heap) drops(d dice, number int, top func(x, y float32) float32) {
	if len(h.inside) == 0 {
		return
	}
	for range number {
		x, y, z := h.spot(0)
		r := d.scaled(0.12, 1.5)
		m := (*h.palette)[h.solid[h.sample(x, y)]]
		if m.owner != ofPlug {
			continue
		}
		m.own = m.own.times(d.between(0.35, 1.1))
		if d.chance(0.15) {
			m.own = hue(d.between(0.1, 0.4), d.between(0.95, 1.05), d.between(0.95, 1.1))
		}
		m.gloss, m.polish, m.rough, m.mottle, m.wrap, m.clear = 0.04, d.count(7, 10), 0, 0.03, 0.1, true
		ax, ay := d.facing()
		tall := r * d.between(0.35, 0.8)
		h.crumb(crumb{x, y, max(z, top(x, y)) - float32(0.15*r), r, r * d.between(0.7, 1), tall, ax, ay, 0.02, 0, h.add(m)}, h.seed)
	}
}

// sample is the index of the height map's sample at a place, or at the drawing's nearest edge.
func (f *relief) sample(x, y float32) int {
	return int(clamp(y/step, 0, across-1))*across + int(clamp(x/step, 0, across-1))
}
