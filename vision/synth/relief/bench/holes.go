package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// holes makes round holes in the tray where four cells meet, as trays have them for draining and to save plastic.
func (b *Bench) holes(d num.Dice, f *solids.Relief) {
	if b.tray == nil || b.pitch == 0 || !d.Chance(0.2) {
		return
	}
	half := d.Between(0.1, 0.9) * (float32(0.707*b.pitch) - b.Cell.Half)
	if half < 0.5 {
		return
	}
	deep := d.Between(1, 4)
	for j := -4; j <= 4; j++ {
		for i := -4; i <= 4; i++ {
			x, y := b.cellAt(float32(i)+0.5, float32(j)+0.5)
			b.pit(f, x, y, min(half, 4), deep)
		}
	}
}

// pit is one hole: its edge is round and its floor dark.
func (b *Bench) pit(f *solids.Relief, x, y, half, deep float32) {
	r := solids.Within(x, y, half)
	for iy := r.Y0; iy < r.Y1; iy++ {
		for ix := r.X0; ix < r.X1; ix++ {
			in := half - num.Length(solids.Middle(ix)-x, solids.Middle(iy)-y)
			i := iy*solids.Across + ix
			if in > 0 && (f.Solid[i] == b.plastic || f.Solid[i] == b.wall) {
				f.Z[i] -= float32(deep * num.Smooth(0, 0.4, in))
				f.Solid[i] = b.wall
			}
		}
	}
}
