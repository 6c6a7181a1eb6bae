package relief

// plate is a flat piece, tilted, with grooves or steps: chips of bark, straw, bits of leaf, flakes of vermiculite.
type plate struct {
	x, y, z        float32 // its middle, mm
	long, short    float32 // half its length and width, mm
	alongX, alongY float32 // unit vector along it
	tiltA, tiltB   float32 // rise along it and across it, mm per mm
	thick          float32 // mm
	jag            float32 // mm by which its ends and sides are jagged
	groove         float32 // mm of the grooves along it
	layers         float32 // steps per mm along it, 0 for none: the leaves of a flake seen from the side
	skew           float32 // how slanting its ends are: mm along per mm across
	narrow         float32 // how much narrower it gets from its middle to one end, as a share; it widens to the other
	bend           float32 // how much it is bent along its middle: rise in mm per mm² across
	solids         [2]uint16
}

func (f *relief) plate(p plate, seed int) {
	b := within(p.x, p.y, length(p.long+p.jag+abs(float32(p.skew*p.short)), float32(p.short*1.4)+p.jag))
	for y := b.y0; y < b.y1; y++ {
		dy := middle(y) - p.y
		for x := b.x0; x < b.x1; x++ {
			dx := middle(x) - p.x
			u, v := dot(dx, dy, p.alongX, p.alongY), dot(dx, dy, -p.alongY, p.alongX)
			f.platePoint(&p, y*across+x, u, v, seed)
		}
	}
}

// platePoint lays one sample of a plate, u along and v across, mm from its middle.
func (f *relief) platePoint(p *plate, i int, u, v float32, seed int) {
	u += float32(p.skew * v)
	half := float32(p.short * (1 - float32(p.narrow*u/p.long)))
	if abs(u) > p.long+p.jag || abs(v) > half+p.jag {
		return
	}
	grain := f.grit.near(int(float32(u*6))+seed, int(float32(v*28)+256)+seed>>9)
	rag := float32(p.jag * grain)
	in := min(p.long-abs(u)+rag, half-abs(v)+float32(0.5*rag))
	if in < 0 {
		return
	}
	z := p.z + dot(u, v, p.tiltA, p.tiltB) + float32(p.groove*grain) + float32(p.bend*v*v)
	z -= float32(p.thick * max(0, 1-float32(in*12))) // the worn edge, 0.08 mm wide
	solid := p.solids[0]
	if p.layers > 0 {
		at := float32((u+float32(0.04*grain))*p.layers) + 64
		part := at - floor(at)
		z += float32((part - 0.5) * 0.12)
		solid = p.solids[int(at)&1]
	}
	f.lay(i, z, solid)
}
