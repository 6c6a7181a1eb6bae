package relief

// holes makes round holes in the tray where four cells meet, as trays have them for draining and to save plastic.
func (b *bench) holes(d dice, f *relief) {
	if b.tray == nil || b.pitch == 0 || !d.chance(0.2) {
		return
	}
	half := d.between(0.1, 0.9) * (float32(0.707*b.pitch) - b.cell.half)
	if half < 0.5 {
		return
	}
	deep := d.between(1, 4)
	for j := -4; j <= 4; j++ {
		for i := -4; i <= 4; i++ {
			x, y := b.cellAt(float32(i)+0.5, float32(j)+0.5)
			b.pit(f, x, y, min(half, 4), deep)
		}
	}
}

// pit is one hole: its edge is round and its floor dark.
func (b *bench) pit(f *relief, x, y, half, deep float32) {
	r := within(x, y, half)
	for iy := r.y0; iy < r.y1; iy++ {
		for ix := r.x0; ix < r.x1; ix++ {
			in := half - length(middle(ix)-x, middle(iy)-y)
			i := iy*across + ix
			if in > 0 && (f.solid[i] == b.plastic || f.solid[i] == b.wall) {
				f.z[i] -= float32(deep * smooth(0, 0.4, in))
				f.solid[i] = b.wall
			}
		}
	}
}
