// Package bench is what is there before any medium: where plugs and cells are, the tray or board around them, and the plugs' bare floors.
// In go chance and the floor's material; out come a height map that the medium is laid on, and the plugs' outlines for what grows there.
// It knows nothing of media, roots and light.
package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Bench lays what is there before any medium: tray or board, and the plugs' floors.
type Bench struct {
	*Layout
	*tray
	*board
	Floor     uint16        // the material of the plugs' floor
	Undulate  solids.Coarse // mm by which the plugs' surface rises and sinks
	FloorGrit float32       // mm of its roughness
	Sunk      float32       // mm by which the floor lies below the tops of the heap
}

// Lay lays tray or board, the plugs' floors, the tray's holes and what dirt lies there.
func (b *Bench) Lay(d num.Dice, f *solids.Relief, p *solids.Palette) {
	if d.Chance(0.12) && !b.Layout.empty {
		b.board = newBoard(d, p)
	} else {
		b.tray = newTray(d, p, b.Layout.empty)
	}
	b.ground(f, d.Place())
	b.holes(d, f)
	b.dirt(d, f, p)
}

// ground writes the whole height map.
func (b *Bench) ground(f *solids.Relief, seed int) {
	var plugIn, holeIn, web, wave [solids.Across]float32
	for y := range solids.Across {
		b.Plug.Row(y, plugIn[:])
		if b.board == nil {
			b.hole.Row(y, holeIn[:])
			if b.tray.rib != 0 {
				b.web.Row(y, web[:])
			}
		}
		b.Undulate.Row(y, wave[:])
		grit := f.Grit[((y+seed>>9)&(num.NoiseSide-1))*num.NoiseSide:][:num.NoiseSide]
		for x := range solids.Across {
			i := y*solids.Across + x
			n := grit[(x+seed)&(num.NoiseSide-1)]
			if plugIn[x] > 0 {
				f.Z[i], f.Solid[i] = wave[x]-b.Sunk+float32(b.FloorGrit*n), b.Floor
				continue
			}
			f.Z[i], f.Solid[i] = b.surround(x, y, holeIn[x], web[x], n)
		}
	}
}

// surround is the surface of what surrounds the plugs.
func (b *Bench) surround(x, y int, in, web, n float32) (z float32, solid uint16) {
	if b.board != nil {
		return b.board.height(x, y), b.board.solid
	}
	z, solid = b.surface(in, web)
	return z + float32(b.skin*n), solid
}

// Swell returns the plugs' surface: level, dome, round edge and slow waves.
func (l *Layout) Swell(d num.Dice, t *num.Tables, waves float32) solids.Coarse {
	high, long := waves*d.Between(0.02, 0.3), d.Scaled(3, 15)
	sx, sy := d.Between(0, 500), d.Between(0, 500)
	return solids.NewCoarse(func(x, y float32) float32 {
		z := float32(high * t.Soft.At(float32(x*num.SoftWave/long)+sx, float32(y*num.SoftWave/long)+sy))
		i, in := l.nearest(t, x, y)
		if i < 0 {
			return z
		}
		p := &l.Plugs[i]
		out := num.Clamp(1-in/p.Half, 0, 1)
		edge := num.Clamp(1-in/p.round, 0, 1.5)
		return z + p.level + float32(p.dome*(1-float32(out*out))) - float32(0.6*p.round*edge*edge)
	})
}

// nearest is the plug whose edge a place is deepest inside of, or nearest to; -1 where there are no plugs.
func (l *Layout) nearest(t *num.Tables, x, y float32) (plug int, in float32) {
	plug, in = -1, -1e3
	for i := range l.Plugs {
		p := &l.Plugs[i]
		at := float32(1.45*p.Half) - max(num.Abs(x-p.X), num.Abs(y-p.Y)) // no corner is farther out
		if at > in && at > -3 {
			at = p.Depth(t, x, y)
		}
		if at > in {
			plug, in = i, at
		}
	}
	return plug, in
}
