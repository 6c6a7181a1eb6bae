package relief

import (
	"traygauge/vision/synth/relief/lighting"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// shader lights the relief and the roots of one drawing.
type shader struct {
	*solids.Relief
	lamp    *lighting.Lamp
	palette solids.Palette
	shades  lighting.Shades
	hollows lighting.Hollows
	patches solids.Coarse // share by which the medium's colour changes from place to place
}

// ground is the light that sample (x, y) of the height map sends back; texel is the texel that it lies in and patch the medium's
// change of colour there.
func (s *shader) ground(x, y, texel int, patch float32) num.RGB {
	i := y*solids.Across + x
	m := &s.palette[s.Solid[i]]
	z := s.Z[i]
	zx, zy := s.rise(x, y, i)
	sun, deep := s.shades.Sun(i, texel, z), s.hollows.Deep(texel, z)
	tone := 1 + float32(m.Mottle*s.mottling(m, x, y))
	if m.Owner == solids.OfPlug {
		tone *= patch
	}
	n := lighting.Normal(zx, zy)
	if m.Clear {
		n.X, n.Y = -n.X, -n.Y
	}
	light := s.lamp.Matt(m.Own, n, m.Wrap, sun, deep).Times(max(0.2, tone))
	if m.Gloss > 0 {
		n := lighting.Normal(zx+float32(m.Rough*s.waver(x, y)), zy+float32(m.Rough*s.waver(x+251, y+83)))
		k := s.lamp.Mirror(n, m.Gloss, m.Polish, sun, deep)
		light = light.Plus(num.RGB{R: k, G: k, B: k})
	}
	return light
}

// waver is how a glossy surface's slope varies from place to place, in standard deviations.
func (s *shader) waver(x, y int) float32 {
	return float32(0.45*s.Fine.Near(x, y)) + float32(0.8*s.Grit.Near(x>>1+91, y>>1+40))
}

// rise is the relief's slope at a sample, in mm per mm, no steeper than a steep wall.
func (s *shader) rise(x, y, i int) (zx, zy float32) {
	left, right, up, down := i, i, i, i
	if x > 0 {
		left--
	}
	if x < solids.Across-1 {
		right++
	}
	if y > 0 {
		up -= solids.Across
	}
	if y < solids.Across-1 {
		down += solids.Across
	}
	zx = (s.Z[right] - s.Z[left]) / (2 * solids.Step)
	zy = (s.Z[down] - s.Z[up]) / (2 * solids.Step)
	return num.Clamp(zx, -3, 3), num.Clamp(zy, -3, 3)
}

// mottling is how a material's own colour varies at a sample, in standard deviations.
func (s *shader) mottling(m *solids.Material, x, y int) float32 {
	if m.Coarse {
		return s.Grit.Near(x>>1+131, y>>1+17)
	}
	return s.Fine.Near(x+57, y+201) + float32(0.5*s.Grit.Near(x, y+311))
}
