// Package texture is unevenness: noises over the whole drawing and points scattered one to a cell, by which everything else varies from
// place to place. In goes chance, out come values of deviation about 1 at a texel or between texels. It knows nothing of what varies by them.
package texture

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// Textures are the noises that all layers of a drawing share, each of deviation about 1.
type Textures struct {
	Broad        Field // patches of 3 to 20 mm
	Mid          Field // patches of 0.7 to 4 mm
	Grain        Field // from 0.15 mm down to a texel
	WarpX, WarpY Field // by which lookups are bent
}

// New draws the textures of a drawing.
func New(d num.Dice) *Textures {
	t := &Textures{Broad: NewField(), Mid: NewField(), Grain: NewField(), WarpX: NewField(), WarpY: NewField()}
	t.Broad.Octaves(d, d.Whole(2, 5), 3, 0.75, 0.65)
	t.Mid.Octaves(d, d.Whole(11, 17), 3, 0.75, 0.65)
	t.Grain.Octaves(d, d.Whole(88, 120), 2, 0.7, 0.9)
	cells := d.Whole(12, 40)
	t.WarpX.octave(d, cells, cells, 1)
	t.WarpY.octave(d, cells, cells, 1)
	return t
}

// Felted is a noise of wavy streaks: stretched noise, bent by the warp.
func (t *Textures) Felted(d num.Dice) Field {
	raw := NewField()
	raw.octave(d, d.Whole(14, 30), d.Whole(90, 160), 0.8)
	turned := NewField()
	way := d.Direction()
	c, s := float32(way.X), float32(way.Y)
	bend := d.Between32(8, 30)
	i := 0
	for y := range canvas.Side {
		for x := range canvas.Side {
			u := float32(x) + float32(bend*t.Broad[i])
			v := float32(y) + float32(bend*t.Mid[i])
			one := raw.At(float32(u*c)-float32(v*s), float32(u*s)+float32(v*c))
			other := raw.At(float32(v*s)+float32(u*c*0.7)+91, float32(u*c*0.8)-float32(v*s)+33)
			turned[i] = one + other
			i++
		}
	}
	return turned
}
