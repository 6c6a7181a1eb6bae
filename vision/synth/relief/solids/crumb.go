package solids

import "traygauge/vision/synth/relief/num"

// Crumb is a rough ellipsoid: crumbs of peat and loam, rounded grains, prills, tufts of moss.
type Crumb struct {
	X, Y, Z        float32 // its middle, mm
	Long, Short    float32 // half axes in the plane, mm
	High           float32 // half axis upward, mm
	AlongX, AlongY float32 // unit vector along its long axis
	Rough          float32 // how ragged its outline is: 0 for smooth, 0.3 for a crumb
	Bump           float32 // mm of its surface's bumps
	Solid          uint16
}

// window is the samples that a crumb may reach: a box around its ellipse, and a margin for its raggedness.
func (c *Crumb) window() Box {
	margin := 1 + float32(0.7*c.Rough)
	reachX := float32(margin * num.Length(c.Long*c.AlongX, c.Short*c.AlongY))
	reachY := float32(margin * num.Length(c.Long*c.AlongY, c.Short*c.AlongX))
	return Box{
		max(0, int((c.X-reachX)/Step)), max(0, int((c.Y-reachY)/Step)),
		min(Across, int((c.X+reachX)/Step)+1), min(Across, int((c.Y+reachY)/Step)+1),
	}
}

// Crumb lays a crumb; seed is where in the noise table its roughness is read, as for all solids.
func (f *Relief) Crumb(c Crumb, seed int) {
	b := c.window()
	stepA, stepB := Step*c.AlongX/c.Long, -Step*c.AlongY/c.Short
	for y := b.Y0; y < b.Y1; y++ {
		dx, dy := Middle(b.X0)-c.X, Middle(y)-c.Y
		u, v := num.Dot(dx, dy, c.AlongX, c.AlongY)/c.Long, num.Dot(dx, dy, -c.AlongY, c.AlongX)/c.Short
		grit := f.Grit[((y+seed>>9)&(num.NoiseSide-1))*num.NoiseSide:][:num.NoiseSide]
		for x := b.X0; x < b.X1; x++ {
			n := grit[(x+seed)&(num.NoiseSide-1)]
			q := num.Dot(u, v, u, v) + float32(c.Rough*n)
			if q < 1 {
				f.Lay(y*Across+x, c.Z+float32(c.High*num.Sqrt(1-q))-float32(c.Bump*n), c.Solid)
			}
			u += stepA
			v += stepB
		}
	}
}
