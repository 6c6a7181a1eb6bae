package brush

// glints strews small mirrors over the medium: wet faces of crumbs and grains that throw the lamp back.
func (s *scene) glints() {
	count := int(s.ratio(5, 120))
	if s.chance(0.25) {
		count = int(s.ratio(100, 900))
	}
	small, big := 0.05, s.ratio(0.1, 0.5)
	bright := s.between32(0.3, 1.5)
	for k := range s.layout.plugs {
		g := &s.layout.plugs[k]
		for n := int(float64(float64(count)*g.area()) / (908 * perMM * perMM)); n > 0; n-- {
			s.glint(g.somewhere(s.dice, 2), float64(s.ratio(small, big)/2*perMM), min(4, float32(bright*float32(s.ratio(0.3, 3)))))
		}
	}
}

// glint lays one mirror, longer than wide.
func (s *scene) glint(at vec, radius float64, bright float32) {
	way, long := s.direction(), s.between(1, 2.2)
	reach := float64(radius*long) + 1
	x0, x1 := span(at.x-reach, at.x+reach)
	y0, y1 := span(at.y-reach, at.y+reach)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			d := vec{float64(x) + 0.5, float64(y) + 0.5}.minus(at)
			u, v := d.dot(way)/long, d.cross(way)
			r := vec{u, v}.length()
			share := within01(float32(radius-r) + 0.5)
			if radius < 0.5 {
				share = float32(share * float32(4*radius*radius))
			}
			if share > 0 {
				s.lay(y*side+x, share, rgb{bright, bright, bright})
			}
		}
	}
}

// drops lays drops of water over medium and roots; what lies under a drop cannot be told.
func (s *scene) drops() {
	count, big := int(s.ratio(1, 40)), s.ratio(0.5, 3)
	for k := range s.layout.plugs {
		g := &s.layout.plugs[k]
		for n := int(float64(float64(count)*g.area()/(908*perMM*perMM)) + s.Float64()); n > 0; n-- {
			s.drop(g.somewhere(s.dice, 4), float64(s.ratio(0.25, big)/2*perMM))
		}
	}
}

// drop lays one drop: dark toward the lamp, bright away from it where it gathers the light, with the lamp's mirror image.
func (s *scene) drop(at vec, radius float64) {
	l := newLump(s.dice, at, radius, false)
	l.long, l.tall = s.between32(1, 1.15), s.between32(0.5, 0.9)
	s.castDisc(at, float32(radius), float32(0.4*radius), 0.35, &s.lamp)
	below := s.meanLight(at, radius)
	reach := float64(1.5*radius) + 1
	x0, x1 := span(at.x-reach, at.x+reach)
	y0, y1 := span(at.y-reach, at.y+reach)
	sky := s.between32(0.03, 0.25)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			d := vec{float64(x) + 0.5, float64(y) + 0.5}.minus(at)
			inside, nx, ny, nz := l.surface(float32(d.x)/l.long, float32(d.y)*l.long)
			share := within01(inside + 0.5)
			if share <= 0 {
				continue
			}
			i := y*side + x
			gather := 0.75 - float32(0.6*s.lamp.direct*(float32(nx*s.lamp.to[0])+float32(ny*s.lamp.to[1])))
			light := times(below, float32(gather*(0.6+float32(0.4*nz))))
			fresnel := 0.1 + float32(0.9*(1-nz)*(1-nz))
			m := float32(4*s.lamp.mirror(nx, ny, nz, 7)*(0.2+s.lamp.direct)) + float32(sky*fresnel)
			s.lay(i, share, limitedTo(sum(light, rgb{m, m, m}), 4))
		}
	}
}

// limitedTo keeps every part of a colour at most at k.
func limitedTo(c rgb, k float32) rgb { return rgb{min(c[0], k), min(c[1], k), min(c[2], k)} }

// meanLight is the mean of the painting over a square of a radius.
func (s *scene) meanLight(at vec, radius float64) rgb {
	x0, x1 := span(at.x-radius, at.x+radius)
	y0, y1 := span(at.y-radius, at.y+radius)
	var total rgb
	n := 0
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			total = sum(total, s.Light[y*side+x])
			n++
		}
	}
	if n == 0 {
		return total
	}
	return times(total, 1/float32(n))
}

// films lays puddles between the crumbs: they darken the medium, and where they happen to mirror the sky they hide what is below.
func (s *scene) films() {
	edge, shift := s.between32(0.2, 1.2), s.IntN(side)
	sky := s.between32(0.1, 0.8)
	for i, in := range s.ground.inside {
		if in < 0 {
			continue
		}
		x, y := i%side, i/side
		f := float32(0.7*s.broad.nearest(x+shift, y)) + float32(0.5*s.mid.nearest(x+shift, y))
		wet := ease(edge-0.2, edge+0.1, f)
		if wet <= 0 {
			continue
		}
		s.darken(i, 1-float32(0.4*wet*(1-s.White[i]-s.Brown[i])))
		dx, dy := s.mid.nearest(x+shift+1, y)-s.mid.nearest(x+shift, y), s.mid.nearest(x+shift, y+1)-s.mid.nearest(x+shift, y)
		z := 1 / sqrt32(1+float32(9*dx*dx)+float32(9*dy*dy))
		m := s.lamp.mirror(float32(-3*dx*z), float32(-3*dy*z), z, 6)
		m = float32(m * ease(edge, edge+0.3, f) * ease(0.75, 0.3, s.ground.cover[i]))
		if m > 0.05 {
			s.lay(i, float32(m*0.9), rgb{sky * 1.5, sky * 1.5, sky * 1.6})
		}
	}
}
