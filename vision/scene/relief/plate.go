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
	bend           float32 // how much it is bent along its middle: rise in mm per mm² across
	solids         [2]uint16
}

func (f *relief) plate(p plate, seed int) {
	b := within(p.x, p.y, p.long+p.jag)
	for y := b.y0; y < b.y1; y++ {
		dy := middle(y) - p.y
		for x := b.x0; x < b.x1; x++ {
			dx := middle(x) - p.x
			u, v := dot(dx, dy, p.alongX, p.alongY), dot(dx, dy, -p.alongY, p.alongX)
			if abs(u) > p.long+p.jag || abs(v) > p.short+p.jag {
				continue
			}
			f.platePoint(&p, y*across+x, u, v, seed)
		}
	}
}

// platePoint lays one sample of a plate, u along and v across, mm from its middle.
func (f *relief) platePoint(p *plate, i int, u, v float32, seed int) {
	grain := f.grit.near(int(float32(u*6))+seed, int(float32(v*28)+256)+seed>>9)
	rag := float32(p.jag * grain)
	in := min(p.long-abs(u)+rag, p.short-abs(v)+float32(0.5*rag))
	if in < 0 {
		return
	}
	z := p.z + dot(u, v, p.tiltA, p.tiltB) + float32(p.groove*grain) + float32(p.bend*v*v)
	z -= p.thick * max(0, 1-in*12) // the worn edge, 0.08 mm wide
	solid := p.solids[0]
	if p.layers > 0 {
		at := float32((u+float32(0.04*grain))*p.layers) + 64
		part := at - floor(at)
		z += float32((part - 0.5) * 0.12)
		solid = p.solids[int(at)&1]
	}
	f.lay(i, z, solid)
}
