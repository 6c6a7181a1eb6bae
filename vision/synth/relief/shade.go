package relief

// shader lights the relief and the roots of one drawing.
type shader struct {
	*relief
	lamp    *lamp
	palette palette
	shades  shades
	hollows hollows
	patches coarse // share by which the medium's colour changes from place to place
}

// ground is the light that sample (x, y) of the height map sends back; texel is the texel that it lies in and patch the medium's
// change of colour there.
func (s *shader) ground(x, y, texel int, patch float32) rgb {
	i := y*across + x
	m := &s.palette[s.solid[i]]
	z := s.z[i]
	zx, zy := s.rise(x, y, i)
	sun, deep := s.shades.sun(i, texel, z), s.hollows.deep(texel, z)
	tone := 1 + float32(m.mottle*s.mottling(m, x, y))
	if m.owner == ofPlug {
		tone *= patch
	}
	n := normal(zx, zy)
	if m.clear {
		n.x, n.y = -n.x, -n.y
	}
	light := s.lamp.matt(m.own, n, m.wrap, sun, deep).times(max(0.2, tone))
	if m.gloss > 0 {
		n := normal(zx+float32(m.rough*s.waver(x, y)), zy+float32(m.rough*s.waver(x+251, y+83)))
		k := s.lamp.mirror(n, m.gloss, m.polish, sun, deep)
		light = light.plus(rgb{k, k, k})
	}
	return light
}

// waver is how a glossy surface's slope varies from place to place, in standard deviations.
func (s *shader) waver(x, y int) float32 {
	return float32(0.45*s.fine.near(x, y)) + float32(0.8*s.grit.near(x>>1+91, y>>1+40))
}

// rise is the relief's slope at a sample, in mm per mm, no steeper than a steep wall.
func (s *shader) rise(x, y, i int) (zx, zy float32) {
	left, right, up, down := i, i, i, i
	if x > 0 {
		left--
	}
	if x < across-1 {
		right++
	}
	if y > 0 {
		up -= across
	}
	if y < across-1 {
		down += across
	}
	zx = (s.z[right] - s.z[left]) / (2 * step)
	zy = (s.z[down] - s.z[up]) / (2 * step)
	return clamp(zx, -3, 3), clamp(zy, -3, 3)
}

// mottling is how a material's own colour varies at a sample, in standard deviations.
func (s *shader) mottling(m *material, x, y int) float32 {
	if m.coarse {
		return s.grit.near(x>>1+131, y>>1+17)
	}
	return s.fine.near(x+57, y+201) + float32(0.5*s.grit.near(x, y+311))
}
