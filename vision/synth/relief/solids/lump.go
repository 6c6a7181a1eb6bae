package solids

import "traygauge/vision/synth/relief/num"

// Lump is a porous, knobbly solid of several bulges: expanded perlite, pumice.
type Lump struct {
	Bulges []Bulge
	Pores  float32 // mm by which pores go in
	Bump   float32 // mm of its surface's bumps
	Solid  uint16
	Pore   uint16 // the material inside a pore
}

// Bulge is a ball, x, y, z its middle in mm.
type Bulge struct{ x, y, z, radius float32 }

// NewBulges returns balls that together are about so wide, as a half width in mm.
func NewBulges(d num.Dice, x, y, z, half float32, number int) []Bulge {
	balls := make([]Bulge, number)
	for i := range balls {
		dx, dy := d.Facing()
		off := half * 0.55 * num.Sqrt(d.Float32())
		balls[i] = Bulge{x + float32(dx*off), y + float32(dy*off), z - float32(half*0.4*d.Float32()), half * d.Between(0.4, 0.65)}
	}
	return balls
}

// Lump lays a lump, bulge by bulge.
func (f *Relief) Lump(l Lump, seed int) {
	for _, b := range l.Bulges {
		f.bulge(b, l, seed)
	}
}

func (f *Relief) bulge(c Bulge, l Lump, seed int) {
	b := Within(c.x, c.y, c.radius*1.15)
	for y := b.Y0; y < b.Y1; y++ {
		dy := Middle(y) - c.y
		for x := b.X0; x < b.X1; x++ {
			dx := Middle(x) - c.x
			n := f.Grit.Near(x+seed, y+seed>>9)
			q := float32(c.radius*c.radius*(1+float32(0.12*n))) - num.Dot(dx, dy, dx, dy)
			if q < 0 {
				continue
			}
			z, solid := c.z+num.Sqrt(q)+float32(l.Bump*n), l.Solid
			if in := f.Fine.Near(x+seed>>3, y+seed) - 1.1; in > 0 {
				z -= float32(l.Pores * min(in, 1))
				solid = l.Pore
			}
			f.Lay(y*Across+x, z, solid)
		}
	}
}
