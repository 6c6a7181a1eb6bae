package solids

import "traygauge/vision/synth/relief/num"

// Facet is an angular grain with flat sides: grit, charcoal, crushed perlite, crystals.
type Facet struct {
	X, Y, Z float32 // the middle of its foot, mm
	Size    float32 // half its width, mm
	High    float32 // mm
	Sides   []Cut
	Bump    float32 // mm of its surface's bumps
	Solid   uint16
}

// Cut is one plane that bounds a facet: it starts to fall at so many mm from the middle, in one direction.
type Cut struct{ x, y, from, fall float32 }

// NewCuts returns so many planes all round, and a slightly tilted top.
func NewCuts(d num.Dice, number int, size float32) []Cut {
	cuts := make([]Cut, number+1)
	start := d.Float32()
	for i := range number {
		y, x := num.SinCos(start + float32((float32(i)+float32(0.6*(d.Float32()-0.5)))/float32(number)))
		cuts[i] = Cut{x, y, size * d.Between(0.25, 0.8), d.Between(0.8, 3)}
	}
	x, y := d.Facing()
	cuts[number] = Cut{x, y, -size, d.Between(0.02, 0.35)}
	return cuts
}

// Facet lays a grain.
func (f *Relief) Facet(g Facet, seed int) {
	b := Within(g.X, g.Y, g.Size*1.3)
	for y := b.Y0; y < b.Y1; y++ {
		dy := Middle(y) - g.Y
		for x := b.X0; x < b.X1; x++ {
			dx := Middle(x) - g.X
			fall := float32(0)
			for _, c := range g.Sides {
				fall = max(fall, float32((num.Dot(dx, dy, c.x, c.y)-c.from)*c.fall))
			}
			if fall < g.High {
				n := f.Grit.Near(x+seed, y+seed>>9)
				f.Lay(y*Across+x, g.Z+g.High-fall+float32(g.Bump*n), g.Solid)
			}
		}
	}
}
