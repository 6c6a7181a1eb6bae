package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// dirt scatters crumbs and scratches over tray or board.
func (b *Bench) dirt(d num.Dice, f *solids.Relief, p *solids.Palette) {
	crumbs := (*p)[b.Floor]
	crumbs.Owner = solids.OfTray
	if d.Chance(0.6) {
		kin := p.Kin(d, 8, crumbs, 0.5)
		for range int(d.Scaled(5, 400)) {
			x, y := d.Between(0, solids.Width), d.Between(0, solids.Width)
			if b.Layout.Plug.At(x, y) > -0.6 {
				continue
			}
			size := d.Scaled(0.1, 1.2)
			ax, ay := d.Facing()
			f.Crumb(solids.Crumb{X: x, Y: y, Z: f.Height(x, y), Long: size / 2, Short: size / 2 * d.Between(0.5, 1),
				High: size / 2 * d.Between(0.4, 0.9), AlongX: ax, AlongY: ay, Rough: 0.3, Bump: 0.03,
				Solid: d.One(kin)}, d.Place())
		}
	}
	if b.tray != nil && d.Chance(0.35) {
		b.scratches(d, f, p)
	}
}

// scratches are shallow pale lines in the plastic.
func (b *Bench) scratches(d num.Dice, f *solids.Relief, p *solids.Palette) {
	m := (*p)[b.plastic]
	m.Own = m.Own.Toward(num.RGB{R: 0.3, G: 0.3, B: 0.3}, d.Between(0.05, 0.3))
	solid := p.Add(m)
	for range d.Count(1, 25) {
		x, y := d.Between(0, solids.Width), d.Between(0, solids.Width)
		ax, ay := d.Facing()
		for range int(d.Scaled(5, 80)) {
			i := f.Sample(x, y)
			if f.Solid[i] != b.plastic {
				break
			}
			f.Solid[i] = solid
			x += float32(ax * solids.Step)
			y += float32(ay * solids.Step)
		}
	}
}
