package relief

// lump is a porous, knobbly solid of several bulges: expanded perlite, pumice.
type lump struct {
	bulges []bulge
	pores  float32 // mm by which pores go in
	bump   float32 // mm of its surface's bumps
	solid  uint16
	pore   uint16 // the material inside a pore
}

// bulge is a ball, x, y, z its middle in mm.
type bulge struct{ x, y, z, radius float32 }

// bulges returns balls that together are about so wide, as a half width in mm.
func (d dice) bulges(x, y, z, half float32, number int) []bulge {
	balls := make([]bulge, number)
	for i := range balls {
		dx, dy := d.facing()
		off := half * 0.55 * sqrt(d.Float32())
		balls[i] = bulge{x + float32(dx*off), y + float32(dy*off), z - float32(half*0.4*d.Float32()), half * d.between(0.4, 0.65)}
	}
	return balls
}

func (f *relief) lump(l lump, seed int) {
	for _, b := range l.bulges {
		f.bulge(b, l, seed)
	}
}

func (f *relief) bulge(c bulge, l lump, seed int) {
	b := within(c.x, c.y, c.radius*1.15)
	for y := b.y0; y < b.y1; y++ {
		dy := middle(y) - c.y
		for x := b.x0; x < b.x1; x++ {
			dx := middle(x) - c.x
			n := f.grit.near(x+seed, y+seed>>9)
			q := float32(c.radius*c.radius*(1+float32(0.12*n))) - dot(dx, dy, dx, dy)
			if q < 0 {
				continue
			}
			z, solid := c.z+sqrt(q)+float32(l.bump*n), l.solid
			if in := f.fine.near(x+seed>>3, y+seed) - 1.1; in > 0 {
				z -= float32(l.pores * min(in, 1))
				solid = l.pore
			}
			f.lay(y*across+x, z, solid)
		}
	}
}
