package relief

// cover lays something from outside over a part of the plug or all of it.
func (h *heap) cover(d dice) {
	x, y := d.facing()
	off := width * d.between(0.05, 0.55)
	c := covering{heap: h, x: width/2 + float32(x*off), y: width/2 + float32(y*off)}
	c.alongX, c.alongY = turned(x, y, 0.08*d.bell())
	kinds := []func(dice){c.fingers, c.paper, c.label, c.leaf, c.tool, c.fabric}
	kinds[d.IntN(len(kinds))](d)
}

// covering is what lies over the plug, and where: a place on its near end and the direction in which it leaves the drawing.
type covering struct {
	*heap
	x, y, alongX, alongY float32
}

// fingers are skin-coloured tubes.
func (c covering) fingers(d dice) {
	m := material{own: skin(d), owner: ofCover, mottle: 0.05, coarse: true, gloss: 0.01, polish: 3, rough: 0.1, wrap: 0.5}
	kin := c.kin(d, 3, m, 0.06)
	wide := d.between(6, 9)
	for i := range d.count(1, 3) {
		aside := float32(i) * wide * 1.9
		back := d.between(0, 10) * float32(i)
		x, y := c.x+float32(c.alongY*aside)+float32(c.alongX*back), c.y-float32(c.alongX*aside)+float32(c.alongY*back)
		c.relief.stick(x, y, 5, x+float32(c.alongX*90), y+float32(c.alongY*90), 9, wide, d.one(kin))
	}
}

// skin is from dark to fair.
func skin(d dice) rgb { return hue(d.scaled(0.05, 0.5), d.between(1.35, 2), d.between(0.45, 0.8)) }

// slab lays a flat thing that reaches so many mm back from its near end.
func (c covering) slab(long, wide, high, tilt float32, bend float32, solid uint16) {
	x, y := c.x+float32(c.alongX*long/2), c.y+float32(c.alongY*long/2)
	c.plate(plate{x: x, y: y, z: high, long: long / 2, short: wide / 2, alongX: c.alongX, alongY: c.alongY, tiltA: tilt, thick: 0.1, bend: bend,
		solids: [2]uint16{solid, solid}}, 0)
}

func (c covering) paper(d dice) {
	m := material{own: hue(d.between(0.6, 0.95), d.between(0.98, 1.06), d.between(0.85, 1)), owner: ofCover, mottle: 0.01, coarse: true, wrap: 0.2}
	c.slab(d.between(20, 70), d.between(15, 60), d.between(5, 8), 0.03*d.Float32(), 0.003*d.bell(), c.add(m))
}

func (c covering) label(d dice) {
	m := material{own: rgb{d.scaled(0.03, 0.9), d.scaled(0.03, 0.9), d.scaled(0.03, 0.9)}, owner: ofCover, mottle: 0.01, gloss: 0.04, polish: 5,
		rough: 0.02, wrap: 0.3}
	c.slab(d.between(20, 60), d.between(8, 22), d.between(5, 7), 0.05*d.Float32(), 0.004*d.bell(), c.add(m))
}

func (c covering) tool(d dice) {
	m := material{own: hue(d.scaled(0.05, 0.5), d.between(0.95, 1.6), d.between(0.5, 1.05)), owner: ofCover, mottle: 0.04, gloss: d.between(0, 0.2),
		polish: d.count(3, 6), rough: 0.05, wrap: 0.1}
	half := d.between(1, 6)
	c.relief.stick(c.x, c.y, 4, c.x+float32(c.alongX*90), c.y+float32(c.alongY*90), 10, half, c.add(m))
}

func (c covering) fabric(d dice) {
	m := material{own: rgb{d.scaled(0.03, 0.6), d.scaled(0.03, 0.6), d.scaled(0.03, 0.6)}, owner: ofCover, mottle: 0.12, wrap: 0.4}
	solid := c.add(m)
	c.slab(d.between(25, 70), d.between(20, 70), d.between(5, 7), 0.04*d.Float32(), 0.005*d.bell(), solid)
	threads := d.between(1, 3)
	var wave [across]float32
	for i := range wave {
		wave[i], _ = sinCos(middle(i) * threads)
	}
	for i, s := range c.solid {
		if s == solid {
			c.z[i] += float32(0.06 * wave[i%across] * wave[i/across])
		}
	}
}

// leaf is a pointed green blade with veins.
func (c covering) leaf(d dice) {
	m := material{own: hue(d.between(0.06, 0.25), d.between(0.4, 0.8), d.between(0.1, 0.35)), owner: ofCover, mottle: 0.1, coarse: true, gloss: 0.02, polish: 4,
		rough: 0.1, wrap: 0.5}
	blade := c.add(m)
	m.own = m.own.times(1.5)
	vein := c.add(m)
	long, half := d.between(25, 60), d.between(7, 16)
	b := within(c.x, c.y, long)
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			dx, dy := middle(x)-c.x, middle(y)-c.y
			u, v := dot(dx, dy, c.alongX, c.alongY)/long, dot(dx, dy, -c.alongY, c.alongX)
			if u <= 0 || u >= 1 || abs(v) > half*2.6*sqrt(u)*(1-u) {
				continue
			}
			solid, z := blade, 5+float32(0.02*v*v)+float32(u*3)
			rib := float32((float32(u*long)-float32(0.7*abs(v)))*0.2) + 8
			part := abs(rib - floor(rib) - 0.5)
			if abs(v) < 0.35 || part > 0.47 {
				solid, z = vein, z-0.05
			}
			c.lay(y*across+x, z, solid)
		}
	}
}
