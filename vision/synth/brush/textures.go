package brush

// textures are the noises that all layers of a drawing share, each of deviation about 1.
type textures struct {
	broad        field // patches of 3 to 20 mm
	mid          field // patches of 0.7 to 4 mm
	grain        field // from 0.15 mm down to a texel
	warpX, warpY field // by which lookups are bent
}

func newTextures(d dice) *textures {
	t := &textures{broad: newField(), mid: newField(), grain: newField(), warpX: newField(), warpY: newField()}
	t.broad.octaves(d, d.whole(2, 5), 3, 0.75, 0.65)
	t.mid.octaves(d, d.whole(11, 17), 3, 0.75, 0.65)
	t.grain.octaves(d, d.whole(88, 120), 2, 0.7, 0.9)
	cells := d.whole(12, 40)
	t.warpX.octave(d, cells, cells, 1)
	t.warpY.octave(d, cells, cells, 1)
	return t
}

// felted is a noise of wavy streaks: stretched noise, bent by the warp.
func (t *textures) felted(d dice) field {
	raw := newField()
	raw.octave(d, d.whole(14, 30), d.whole(90, 160), 0.8)
	turned := newField()
	way := d.direction()
	c, s := float32(way.x), float32(way.y)
	bend := d.between32(8, 30)
	i := 0
	for y := range side {
		for x := range side {
			u := float32(x) + float32(bend*t.broad[i])
			v := float32(y) + float32(bend*t.mid[i])
			one := raw.at(float32(u*c)-float32(v*s), float32(u*s)+float32(v*c))
			other := raw.at(float32(v*s)+float32(u*c*0.7)+91, float32(u*c*0.8)-float32(v*s)+33)
			turned[i] = one + other
			i++
		}
	}
	return turned
}
