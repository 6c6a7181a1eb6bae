package brush

// cavities paints what can be seen in the holes that have no plug: the sloping wall, and the floor with its drain.
func (s *scene) cavities(t *tray) {
	floor, drain := s.between(0.4, 0.9), s.between(0.1, 0.6)
	glow := s.ratio(0.1, 0.9)
	ring := s.between(0.5, 0.95)
	if s.chance(0.15) { // deep and black
		glow = 0.02
	}
	for k := range s.layout.bare {
		g := &s.layout.bare[k]
		x0, x1 := span(g.middle.x-g.half, g.middle.x+g.half)
		y0, y1 := span(g.middle.y-g.half, g.middle.y+g.half)
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				at := vec{float64(x) + 0.5, float64(y) + 0.5}
				deep := g.inside(at) / g.half // 0 at the rim .. 1 in the middle
				if deep < 0 {
					continue
				}
				i := y*side + x
				light := s.wallLight(g, at, t)
				flat := within01(float32((deep-(1-floor))*g.half) + 0.5)
				bottom := float32(0.8*glow) * (0.8 + float32(0.05*s.mid[i]) + float32(0.04*s.grain[i]))
				if edge := float32((deep - (1 - float64(floor*ring))) * g.half); edge > -3 && edge < 3 {
					bottom = float32(bottom * (1.35 - float32(0.1*edge*edge)))
				}
				bottom = float32(bottom * (1 - float32(0.9*within01(float32((deep-(1-float64(floor*drain)))*g.half)+0.5))))
				light = blend32(float32(light*float32(glow)), bottom, flat)
				rim := within01(float32(deep*g.half) - 0.5)
				s.lay(i, rim, times(t.colour, max(0.02, light)))
			}
		}
	}
}

// wallLight is the light on a cavity's wall, brightest where it faces the lamp.
func (s *scene) wallLight(g *plug, at vec, t *tray) float32 {
	in := g.inward(at)
	facing := float32(float32(in.x)*s.lamp.to[0]) + float32(float32(in.y)*s.lamp.to[1])
	return 0.5 + float32(0.8*s.lamp.direct*max(0, facing))
}
