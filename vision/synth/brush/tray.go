package brush

// tray is the plastic around the plugs.
type tray struct {
	colour rgb
	mottle float32 // unevenness of its tone, deviation
	rough  float32 // unevenness of its face
	wall   float32 // light that reaches the gap, as a share of the colour
	gloss  float32
	bumps  []bump  // rings about the holes
	ribs   []bump  // along the lines between cells
	pins   float64 // radius of the holes where four cells meet, texels; 0 for none
	dusty  float32
	clear  bool // translucent: the gap glows
}

// bump is a ridge (height above 0) or a groove along an edge.
type bump struct{ at, width, height float32 } // texels

func newTray(d dice, y *layout, ordinary bool) *tray {
	t := &tray{mottle: d.between32(0.02, 0.2), rough: float32(d.ratio(0.01, 0.25)), wall: d.between32(0.03, 0.5),
		gloss: d.between32(0, 0.5), dusty: d.between32(0, 0.5)}
	t.colour = tint(d.ratio(0.006, 0.05), d.between(0.92, 1.1), d.between(0.9, 1.15)) // black
	if !ordinary || d.chance(0.2) {
		t.paintColour(d)
	}
	for n := d.IntN(4); n > 0; n-- {
		b := bump{d.between32(2, 45), d.between32(3, 16), d.between32(-3, 5)}
		if free := float32(float64(y.pitch*0.5) - y.holes[0].half); b.at+b.width > free && free > 6 && d.chance(0.8) {
			b.at, b.width = float32(free*d.between32(0.2, 0.5)), float32(free*d.between32(0.2, 0.45)) // ends before the next cell's
		}
		t.bumps = append(t.bumps, b)
	}
	if d.chance(0.4) {
		t.ribs = append(t.ribs, bump{0, d.between32(3, 14), d.between32(-3, 5)})
	}
	if d.chance(0.2) {
		t.pins = d.between(4, 30)
	}
	return t
}

func (t *tray) paintColour(d dice) {
	switch d.IntN(8) {
	case 0, 1: // grey
		t.colour = tint(d.ratio(0.04, 0.4), d.between(0.95, 1.05), d.between(0.95, 1.08))
	case 2: // green
		t.colour = tint(d.ratio(0.02, 0.25), d.between(0.2, 0.7), d.between(0.3, 0.8))
	case 3: // white
		t.colour = tint(d.between(0.5, 0.9), d.between(0.97, 1.05), d.between(0.9, 1.02))
	case 4: // terracotta
		t.colour = tint(d.between(0.1, 0.3), d.between(1.7, 2.5), d.between(0.4, 0.7))
	case 5: // blue
		t.colour = tint(d.ratio(0.02, 0.25), d.between(0.2, 0.7), d.between(1.4, 3))
	case 6: // translucent
		t.colour, t.clear = tint(d.between(0.2, 0.5), d.between(0.95, 1.05), d.between(0.9, 1)), true
		t.wall = d.between32(0.4, 0.9)
	}
}

// paint lays the tray with its holes over the whole drawing.
func (t *tray) paint(p *painting, y *layout, edge []float32, x *textures, l *lamp) {
	tilt := newTilt(x)
	for i := range edge {
		at := vec{float64(i%side) + 0.5, float64(i/side) + 0.5}
		inHole := rimShare(edge, i)
		light := rgb{}
		if inHole < 1 {
			light = t.top(i, at, y, edge, tilt, x, l)
		}
		if inHole > 0 {
			light = mix(light, t.gap(i, edge, x, l), inHole)
		}
		p.Light[i] = light
	}
}

// tilt is a lookup of a texture's slope.
type tilt struct{ f field }

func newTilt(x *textures) tilt { return tilt{x.mid} }

func (t tilt) at(i int) (dx, dy float32) {
	x, y := i%side, i/side
	return t.f.nearest(x+1, y) - t.f[i], t.f.nearest(x, y+1) - t.f[i]
}

// top is the light from the tray's upper face.
func (t *tray) top(i int, at vec, y *layout, edge []float32, tl tilt, x *textures, l *lamp) rgb {
	dx, dy := outward(edge, i)
	rise := float32(0)
	out := -edge[i]
	for _, b := range t.bumps {
		rise += b.slope(out)
	}
	dx, dy = float32(dx*rise), float32(dy*rise)
	for _, b := range t.ribs {
		u, v := y.between(at)
		du, dv := float64(b.slope(float32(u))), float64(b.slope(float32(v)))
		s := y.across.times(du).plus(y.across.quarter().times(dv))
		dx, dy = dx+float32(s.x), dy+float32(s.y)
	}
	wx, wy := tl.at(i)
	dx, dy = dx+float32(t.rough*wx), dy+float32(t.rough*wy)
	z := 1 / sqrt32(1+float32(dx*dx)+float32(dy*dy))
	shade := l.on(float32(-dx*z), float32(-dy*z), z)
	shade = float32(shade * (1 + float32(t.mottle*(float32(0.6*x.broad[i])+float32(0.25*x.grain[i])))))
	colour := times(t.colour, max(0.1, shade))
	s := float32(t.gloss * l.mirror(float32(-dx*z), float32(-dy*z), z, 4) * 0.25)
	colour = sum(colour, rgb{s, s, s})
	dust := float32(t.dusty * ease(0.4, 1.8, x.mid.nearest(i%side*2, i/side*2)+float32(0.4*x.grain[i])))
	colour = mix(colour, rgb{0.09, 0.07, 0.05}, float32(0.5*dust))
	if t.pins > 0 {
		if in := float32(t.pins - y.corner(at)); in > -1 {
			colour = times(colour, 1-float32(0.9*within01(in+0.5)))
		}
	}
	return colour
}

// slope is the rise per texel of a bump at a distance from its edge.
func (b bump) slope(out float32) float32 {
	f := (out - b.at) / b.width
	if f <= -1 || f >= 1 {
		return 0
	}
	f2 := float32(f * f)
	return float32(-4 * b.height / b.width * f * (1 - f2)) // of height·(1 - f²)²
}

// gap is the light from inside a hole, beside the plug.
func (t *tray) gap(i int, edge []float32, x *textures, l *lamp) rgb {
	dx, dy := outward(edge, i)
	facing := float32(-dx*l.to[0]) - float32(dy*l.to[1]) // the wall that faces the lamp is lit
	depth := float32(max(0, edge[i]) / 8)
	deep := 1 / (1 + depth + float32(depth*depth))
	wall := float32(t.wall * deep * (0.35 + float32(0.65*l.direct*max(0, facing)) + float32(0.05*x.mid[i])))
	return times(t.colour, max(0.02, wall))
}

// outward is the unit direction in which distances fall.
func outward(inside []float32, i int) (dx, dy float32) {
	x, y := i%side, i/side
	dx = inside[i-min(x, 1)] - inside[i+min(side-1-x, 1)]
	dy = inside[i-side*min(y, 1)] - inside[i+side*min(side-1-y, 1)]
	n := sqrt32(float32(dx*dx) + float32(dy*dy))
	if n < 1e-4 {
		return 0, 0
	}
	return dx / n, dy / n
}

// between returns how far a place is from the middle lines between cells, across and along the rows, texels.
func (y *layout) between(at vec) (u, v float64) {
	d := at.minus(y.holes[0].middle)
	fold := func(s float64) float64 {
		s = s/y.pitch + 1000
		return float64((s - float64(int(s)) - 0.5) * y.pitch)
	}
	return fold(d.dot(y.across)), fold(y.across.cross(d))
}

// corner is the distance from the nearest place where four cells meet, texels.
func (y *layout) corner(at vec) float64 {
	u, v := y.between(at)
	return vec{u, v}.length()
}
