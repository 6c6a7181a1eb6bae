package relief

// dirt scatters crumbs and scratches over tray or board.
func (b *bench) dirt(d dice, f *relief, p *palette, crumbs material) {
	crumbs.owner = ofTray
	if d.chance(0.6) {
		kin := p.kin(d, 8, crumbs, 0.5)
		for range int(d.scaled(5, 400)) {
			x, y := d.between(0, width), d.between(0, width)
			if b.layout.plug.at(x, y) > -0.6 {
				continue
			}
			size := d.scaled(0.1, 1.2)
			ax, ay := d.facing()
			f.crumb(crumb{x, y, f.height(x, y), size / 2, size / 2 * d.between(0.5, 1), size / 2 * d.between(0.4, 0.9), ax, ay, 0.3, 0.03,
				d.one(kin)}, d.IntN(1<<18))
		}
	}
	if b.tray != nil && d.chance(0.35) {
		b.scratches(d, f, p)
	}
}

// scratches are shallow pale lines in the plastic.
func (b *bench) scratches(d dice, f *relief, p *palette) {
	m := (*p)[b.plastic]
	m.own = m.own.toward(rgb{0.3, 0.3, 0.3}, d.between(0.05, 0.3))
	solid := p.add(m)
	for range d.count(1, 25) {
		x, y := d.between(0, width), d.between(0, width)
		ax, ay := d.facing()
		for range int(d.scaled(5, 80)) {
			i := f.sample(x, y)
			if f.solid[i] != b.plastic {
				break
			}
			f.solid[i] = solid
			x += float32(ax * step)
			y += float32(ay * step)
		}
	}
}
