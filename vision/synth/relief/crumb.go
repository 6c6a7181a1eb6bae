package relief

// crumb is a rough ellipsoid: crumbs of peat and loam, rounded grains, prills, tufts of moss.
type crumb struct {
	x, y, z        float32 // its middle, mm
	long, short    float32 // half axes in the plane, mm
	high           float32 // half axis upward, mm
	alongX, alongY float32 // unit vector along its long axis
	rough          float32 // how ragged its outline is: 0 for smooth, 0.3 for a crumb
	bump           float32 // mm of its surface's bumps
	solid          uint16
}

// window is the samples that a crumb may reach: a box around its ellipse, and a margin for its raggedness.
func (c *crumb) window() box {
	margin := 1 + float32(0.7*c.rough)
	reachX := float32(margin * length(c.long*c.alongX, c.short*c.alongY))
	reachY := float32(margin * length(c.long*c.alongY, c.short*c.alongX))
	return box{
		max(0, int((c.x-reachX)/step)), max(0, int((c.y-reachY)/step)),
		min(across, int((c.x+reachX)/step)+1), min(across, int((c.y+reachY)/step)+1),
	}
}

func (f *relief) crumb(c crumb, seed int) {
	b := c.window()
	stepA, stepB := step*c.alongX/c.long, -step*c.alongY/c.short
	for y := b.y0; y < b.y1; y++ {
		dx, dy := middle(b.x0)-c.x, middle(y)-c.y
		u, v := dot(dx, dy, c.alongX, c.alongY)/c.long, dot(dx, dy, -c.alongY, c.alongX)/c.short
		grit := f.grit[((y+seed>>9)&(noiseSide-1))*noiseSide:][:noiseSide]
		for x := b.x0; x < b.x1; x++ {
			n := grit[(x+seed)&(noiseSide-1)]
			q := dot(u, v, u, v) + float32(c.rough*n)
			if q < 1 {
				f.lay(y*across+x, c.z+float32(c.high*sqrt(1-q))-float32(c.bump*n), c.solid)
			}
			u += stepA
			v += stepB
		}
	}
}
