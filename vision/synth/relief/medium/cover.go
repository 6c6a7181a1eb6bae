package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Cover lays something from outside over a part of the plug or all of it.
func (h *Heap) Cover(d num.Dice) {
	x, y := d.Facing()
	off := solids.Width * d.Between(0.05, 0.55)
	c := covering{Heap: h, x: solids.Width/2 + float32(x*off), y: solids.Width/2 + float32(y*off)}
	c.alongX, c.alongY = num.Turned(x, y, 0.08*d.Bell())
	kinds := []func(num.Dice){c.fingers, c.paper, c.label, c.leaf, c.tool, c.fabric}
	kinds[d.IntN(len(kinds))](d)
}

// covering is what lies over the plug, and where: a place on its near end and the direction in which it leaves the drawing.
type covering struct {
	*Heap
	x, y, alongX, alongY float32
}

// fingers are skin-coloured tubes.
func (c covering) fingers(d num.Dice) {
	m := solids.Material{Own: skin(d), Owner: solids.OfCover, Mottle: 0.05, Coarse: true, Gloss: 0.01, Polish: 3, Rough: 0.1, Wrap: 0.5}
	kin := c.Kin(d, 3, m, 0.06)
	wide := d.Between(6, 9)
	for i := range d.Count(1, 3) {
		aside := float32(i) * wide * 1.9
		back := d.Between(0, 10) * float32(i)
		x, y := c.x+float32(c.alongY*aside)+float32(c.alongX*back), c.y-float32(c.alongX*aside)+float32(c.alongY*back)
		c.Relief.Stick(x, y, 5, x+float32(c.alongX*90), y+float32(c.alongY*90), 9, wide, d.One(kin))
	}
}

// skin is from dark to fair.
func skin(d num.Dice) num.RGB {
	return num.Hue(d.Scaled(0.05, 0.5), d.Between(1.35, 2), d.Between(0.45, 0.8))
}

// slab lays a flat thing that reaches so many mm back from its near end.
func (c covering) slab(long, wide, high, tilt float32, bend float32, solid uint16) {
	x, y := c.x+float32(c.alongX*long/2), c.y+float32(c.alongY*long/2)
	c.Plate(solids.Plate{X: x, Y: y, Z: high, Long: long / 2, Short: wide / 2, AlongX: c.alongX, AlongY: c.alongY, TiltA: tilt, Thick: 0.1, Bend: bend,
		Solids: [2]uint16{solid, solid}}, 0)
}

func (c covering) paper(d num.Dice) {
	m := solids.Material{Own: num.Hue(d.Between(0.6, 0.95), d.Between(0.98, 1.06), d.Between(0.85, 1)), Owner: solids.OfCover, Mottle: 0.01, Coarse: true, Wrap: 0.2}
	c.slab(d.Between(20, 70), d.Between(15, 60), d.Between(5, 8), 0.03*d.Float32(), 0.003*d.Bell(), c.Add(m))
}

func (c covering) label(d num.Dice) {
	m := solids.Material{Own: num.RGB{R: d.Scaled(0.03, 0.9), G: d.Scaled(0.03, 0.9), B: d.Scaled(0.03, 0.9)}, Owner: solids.OfCover,
		Mottle: 0.01, Gloss: 0.04, Polish: 5,
		Rough: 0.02, Wrap: 0.3}
	c.slab(d.Between(20, 60), d.Between(8, 22), d.Between(5, 7), 0.05*d.Float32(), 0.004*d.Bell(), c.Add(m))
}

func (c covering) tool(d num.Dice) {
	m := solids.Material{Own: num.Hue(d.Scaled(0.05, 0.5), d.Between(0.95, 1.6), d.Between(0.5, 1.05)), Owner: solids.OfCover, Mottle: 0.04,
		Gloss:  d.Between(0, 0.2),
		Polish: d.Count(3, 6), Rough: 0.05, Wrap: 0.1}
	half := d.Between(1, 6)
	c.Relief.Stick(c.x, c.y, 4, c.x+float32(c.alongX*90), c.y+float32(c.alongY*90), 10, half, c.Add(m))
}

func (c covering) fabric(d num.Dice) {
	m := solids.Material{Own: num.RGB{R: d.Scaled(0.03, 0.6), G: d.Scaled(0.03, 0.6), B: d.Scaled(0.03, 0.6)}, Owner: solids.OfCover, Mottle: 0.12, Wrap: 0.4}
	solid := c.Add(m)
	c.slab(d.Between(25, 70), d.Between(20, 70), d.Between(5, 7), 0.04*d.Float32(), 0.005*d.Bell(), solid)
	threads := d.Between(1, 3)
	var wave [solids.Across]float32
	for i := range wave {
		wave[i], _ = num.SinCos(solids.Middle(i) * threads)
	}
	for i, s := range c.Solid {
		if s == solid {
			c.Z[i] += float32(0.06 * wave[i%solids.Across] * wave[i/solids.Across])
		}
	}
}

// leaf is a pointed green blade with veins.
func (c covering) leaf(d num.Dice) {
	m := solids.Material{Own: num.Hue(d.Between(0.06, 0.25), d.Between(0.4, 0.8), d.Between(0.1, 0.35)), Owner: solids.OfCover, Mottle: 0.1,
		Coarse: true, Gloss: 0.02, Polish: 4,
		Rough: 0.1, Wrap: 0.5}
	blade := c.Add(m)
	m.Own = m.Own.Times(1.5)
	vein := c.Add(m)
	long, half := d.Between(25, 60), d.Between(7, 16)
	b := solids.Within(c.x, c.y, long)
	for y := b.Y0; y < b.Y1; y++ {
		for x := b.X0; x < b.X1; x++ {
			dx, dy := solids.Middle(x)-c.x, solids.Middle(y)-c.y
			u, v := num.Dot(dx, dy, c.alongX, c.alongY)/long, num.Dot(dx, dy, -c.alongY, c.alongX)
			if u <= 0 || u >= 1 || num.Abs(v) > half*2.6*num.Sqrt(u)*(1-u) {
				continue
			}
			solid, z := blade, 5+float32(0.02*v*v)+float32(u*3)
			rib := float32((float32(u*long)-float32(0.7*num.Abs(v)))*0.2) + 8
			part := num.Abs(rib - num.Floor(rib) - 0.5)
			if num.Abs(v) < 0.35 || part > 0.47 {
				solid, z = vein, z-0.05
			}
			c.Lay(y*solids.Across+x, z, solid)
		}
	}
}
