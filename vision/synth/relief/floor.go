package relief

// bench lays what is there before any medium: tray or board, and the plugs' floors.
type bench struct {
	*layout
	*tray
	*board
	floor     uint16  // the material of the plugs' floor
	undulate  coarse  // mm by which the plugs' surface rises and sinks
	floorGrit float32 // mm of its roughness
	sunk      float32 // mm by which the floor lies below the tops of the heap
}

// ground writes the whole height map.
func (b *bench) ground(f *relief, seed int) {
	var plugIn, holeIn, web, wave [across]float32
	for y := range across {
		b.plug.row(y, plugIn[:])
		if b.board == nil {
			b.hole.row(y, holeIn[:])
			if b.tray.rib != 0 {
				b.web.row(y, web[:])
			}
		}
		b.undulate.row(y, wave[:])
		grit := f.grit[((y+seed>>9)&(noiseSide-1))*noiseSide:][:noiseSide]
		for x := range across {
			i := y*across + x
			n := grit[(x+seed)&(noiseSide-1)]
			if plugIn[x] > 0 {
				f.z[i], f.solid[i] = wave[x]-b.sunk+float32(b.floorGrit*n), b.floor
				continue
			}
			f.z[i], f.solid[i] = b.surround(x, y, holeIn[x], web[x], n)
		}
	}
}

// surround is the surface of what surrounds the plugs.
func (b *bench) surround(x, y int, in, web, n float32) (z float32, solid uint16) {
	if b.board != nil {
		return b.board.height(x, y), b.board.solid
	}
	z, solid = b.surface(in, web)
	return z + float32(b.skin*n), solid
}

// swell returns the plugs' surface: level, dome, round edge and slow waves.
func (l *layout) swell(d dice, t *tables, waves float32) coarse {
	high, long := waves*d.between(0.02, 0.3), d.scaled(3, 15)
	sx, sy := d.between(0, 500), d.between(0, 500)
	return newCoarse(func(x, y float32) float32 {
		z := float32(high * t.soft.at(float32(x*32/long)+sx, float32(y*32/long)+sy))
		i, in := l.nearest(t, x, y)
		if i < 0 {
			return z
		}
		p := &l.plugs[i]
		out := clamp(1-in/p.half, 0, 1)
		edge := clamp(1-in/p.round, 0, 1.5)
		return z + p.level + float32(p.dome*(1-float32(out*out))) - float32(0.6*p.round*edge*edge)
	})
}

// nearest is the plug whose edge a place is deepest inside of, or nearest to; -1 where there are no plugs.
func (l *layout) nearest(t *tables, x, y float32) (plug int, in float32) {
	plug, in = -1, -1e3
	for i := range l.plugs {
		p := &l.plugs[i]
		at := float32(1.45*p.half) - max(abs(x-p.x), abs(y-p.y)) // no corner is farther out
		if at > in && at > -3 {
			at = p.depth(t, x, y)
		}
		if at > in {
			plug, in = i, at
		}
	}
	return plug, in
}
