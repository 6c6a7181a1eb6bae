package solids

import "traygauge/vision/synth/relief/num"

// Plate is a flat piece, tilted, with grooves or steps: chips of bark, straw, bits of leaf, flakes of vermiculite.
type Plate struct {
	X, Y, Z        float32 // its middle, mm
	Long, Short    float32 // half its length and width, mm
	AlongX, AlongY float32 // unit vector along it
	TiltA, TiltB   float32 // rise along it and across it, mm per mm
	Thick          float32 // mm
	Jag            float32 // mm by which its ends and sides are jagged
	Groove         float32 // mm of the grooves along it
	Layers         float32 // steps per mm along it, 0 for none: the leaves of a flake seen from the side
	Skew           float32 // how slanting its ends are: mm along per mm across
	Narrow         float32 // how much narrower it gets from its middle to one end, as a share; it widens to the other
	Bend           float32 // how much it is bent along its middle: rise in mm per mm² across
	Solids         [2]uint16
}

// Plate lays a plate.
func (f *Relief) Plate(p Plate, seed int) {
	b := Within(p.X, p.Y, num.Length(p.Long+p.Jag+num.Abs(float32(p.Skew*p.Short)), float32(p.Short*1.4)+p.Jag))
	for y := b.Y0; y < b.Y1; y++ {
		dy := Middle(y) - p.Y
		for x := b.X0; x < b.X1; x++ {
			dx := Middle(x) - p.X
			u, v := num.Dot(dx, dy, p.AlongX, p.AlongY), num.Dot(dx, dy, -p.AlongY, p.AlongX)
			f.platePoint(&p, y*Across+x, u, v, seed)
		}
	}
}

// platePoint lays one sample of a plate, u along and v across, mm from its middle.
func (f *Relief) platePoint(p *Plate, i int, u, v float32, seed int) {
	u += float32(p.Skew * v)
	half := float32(p.Short * (1 - float32(p.Narrow*u/p.Long)))
	if num.Abs(u) > p.Long+p.Jag || num.Abs(v) > half+p.Jag {
		return
	}
	grain := f.Grit.Near(int(float32(u*6))+seed, int(float32(v*28)+256)+seed>>9)
	rag := float32(p.Jag * grain)
	in := min(p.Long-num.Abs(u)+rag, half-num.Abs(v)+float32(0.5*rag))
	if in < 0 {
		return
	}
	z := p.Z + num.Dot(u, v, p.TiltA, p.TiltB) + float32(p.Groove*grain) + float32(p.Bend*v*v)
	z -= float32(p.Thick * max(0, 1-float32(in*12))) // the worn edge, 0.08 mm wide
	solid := p.Solids[0]
	if p.Layers > 0 {
		at := float32((u+float32(0.04*grain))*p.Layers) + 64
		part := at - num.Floor(at)
		z += float32((part - 0.5) * 0.12)
		solid = p.Solids[int(at)&1]
	}
	f.Lay(i, z, solid)
}
