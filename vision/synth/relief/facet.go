package relief

// facet is an angular grain with flat sides: grit, charcoal, crushed perlite, crystals.
type facet struct {
	x, y, z float32 // the middle of its foot, mm
	size    float32 // half its width, mm
	high    float32 // mm
	sides   []cut
	bump    float32 // mm of its surface's bumps
	solid   uint16
}

// cut is one plane that bounds a facet: it starts to fall at so many mm from the middle, in one direction.
type cut struct{ x, y, from, fall float32 }

// cuts returns so many planes all round, and a slightly tilted top.
func (d dice) cuts(number int, size float32) []cut {
	cuts := make([]cut, number+1)
	start := d.Float32()
	for i := range number {
		y, x := sinCos(start + float32((float32(i)+float32(0.6*(d.Float32()-0.5)))/float32(number)))
		cuts[i] = cut{x, y, size * d.between(0.25, 0.8), d.between(0.8, 3)}
	}
	x, y := d.facing()
	cuts[number] = cut{x, y, -size, d.between(0.02, 0.35)}
	return cuts
}

func (f *relief) facet(g facet, seed int) {
	b := within(g.x, g.y, g.size*1.3)
	for y := b.y0; y < b.y1; y++ {
		dy := middle(y) - g.y
		for x := b.x0; x < b.x1; x++ {
			dx := middle(x) - g.x
			fall := float32(0)
			for _, c := range g.sides {
				fall = max(fall, float32((dot(dx, dy, c.x, c.y)-c.from)*c.fall))
			}
			if fall < g.high {
				n := f.grit.near(x+seed, y+seed>>9)
				f.lay(y*across+x, g.z+g.high-fall+float32(g.bump*n), g.solid)
			}
		}
	}
}
