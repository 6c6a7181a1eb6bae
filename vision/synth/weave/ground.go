package weave

import "math"

// stuff draws the colour of something that media are made of.
func (d dice) stuff() rgb {
	return d.tinted(
		tint{24, 0.008, 0.05, 1, 1.6, 0.5, 1},       // dark peat, compost
		tint{20, 0.03, 0.14, 1.1, 1.8, 0.35, 0.8},   // brown peat
		tint{16, 0.06, 0.28, 1.2, 1.8, 0.3, 0.7},    // coir
		tint{10, 0.15, 0.55, 1.08, 1.4, 0.45, 0.85}, // dry pale peat, straw
		tint{8, 0.04, 0.35, 1.2, 2.1, 0.3, 0.7},     // bark, wood
		tint{7, 0.06, 0.4, 1.05, 1.5, 0.4, 0.9},     // vermiculite
		tint{6, 0.12, 0.6, 0.95, 1.08, 0.6, 0.95},   // rockwool
		tint{5, 0.1, 0.6, 0.97, 1.25, 0.6, 1},       // sand, grit, pumice
		tint{4, 0.01, 0.6, 0.8, 1.8, 0.3, 1.2},      // anything
	)
}

// paintGround paints the tray and the medium, all that roots can lie on.
func (s *scene) paintGround() {
	s.ground = &canvas{n: side, scale: perMM, light: make([]rgb, side*side)}
	s.soil = s.stuff()
	if k := luminance(s.soil) / luminance(s.look.white); k > 0.7 && k < 1.35 && s.chance(0.85) {
		s.soil = times(s.soil, 0.6/k) // else hardly a root could be seen
	}
	s.paintWalls()
	s.ground.share = s.plugShare
	s.medium()
	if s.chance(0.9) {
		for n := s.count(1, 4); n > 0; n-- {
			s.strew()
		}
	}
	if s.chance(0.4) {
		s.cracks()
	}
	if s.chance(0.65) {
		s.perlite()
	}
	algae, salt := hue(s.log(0.02, 0.25), s.in(0.4, 1), s.in(0.15, 0.6)), hue(s.in(0.2, 0.7), s.in(0.95, 1.15), s.in(0.7, 1))
	for _, c := range []rgb{algae, salt, times(s.soil, 0.4)} { // the last where it is wet
		if s.chance(0.15) {
			s.blot(c, s.in(0.1, 0.9), s.log(0.5, 10))
		}
	}
}

// medium paints noises of several scales, two colours and folds that catch the lamp.
func (s *scene) medium() {
	other := mix(s.soil, s.stuff(), s.in32(0, 0.7))
	wide, stretch := s.log(0.2, 6), 1.0
	if s.chance(0.12) { // combed
		stretch = s.log(1, 8)
	}
	tone := s.streaks(wide*stretch, wide, s.count(2, 6), s.in(0.5, 1.1))
	kind := s.field(s.log(0.3, 10), 3, 0.8)
	deep, speck, sharp, fold := s.in32(0.05, 0.55), s.in32(0, 0.25), s.in32(0.2, 2), s.in32(0, 0.5)
	shift := s.in32(-0.5, 1.5)
	for i := range s.depth {
		share := s.plugShare(i)
		if share == 0 {
			continue
		}
		c := mix(s.soil, other, ease(-1, 1, sharp*kind[i]-shift))
		x, y := i%side, i/side
		slopeX := s.height[y*side+min(x+1, side-1)] - s.height[i]
		slopeY := s.height[min(y+1, side-1)*side+x] - s.height[i]
		light := deep*tone[i] + speck*s.grain[i] - fold*(slopeX*float32(s.lampX)+slopeY*float32(s.lampY))
		c = times(c, float32(math.Exp(float64(min(1.2, light)))))
		s.ground.light[i] = mix(s.ground.light[i], c, share)
	}
}

// strew lays many lumps of one kind.
func (s *scene) strew() {
	small := s.log(0.1, 1)
	large := min(5, small*s.log(1.2, 8))
	dense := s.log(0.02, 1.6) // of the plug covered, one over the other
	own := mix(s.soil, s.stuff(), s.in32(0, 1))
	vary := s.in(0.03, 0.5)
	base := lump{relief: s.in32(0, 0.8), dark: s.in32(0, 0.7), speck: s.in32(0, 0.3), edge: s.in32(0, 0.6)}
	angular, slender := s.chance(0.7), s.log(1, 4)
	if s.chance(0.1) {
		base.glint = s.in32(0.1, 1)
	}
	area, mean := 4*s.half*s.half, 0.8*small*(small+large)/2
	if s.pitch < width {
		area = width * width * 0.8
	}
	for n := min(9000, int(dense*area/mean)); n > 0; n-- {
		l := base
		l.x, l.y = s.somewhere()
		if s.depth[texelAt(l.x, l.y)] < 0 {
			continue
		}
		l.r, l.long = s.log(small, large)/2, s.in(1, slender)
		l.colour = varied(s.dice, own, vary)
		if angular {
			l.faces = s.count(4, 9)
		}
		s.lay(s.ground, &l)
	}
}

// perlite lays up to 50 grains of perlite or pumice.
func (s *scene) perlite() {
	big := s.log(1, 4.5)
	for n := int(s.log(1, 51)); n > 0; n-- {
		x, y := s.somewhere()
		s.layPerlite(s.ground, x, y, s.log(0.4, big)/2)
	}
}

func (s *scene) layPerlite(c *canvas, x, y, r float64) {
	l := lump{x: x, y: y, r: r, long: s.in(1, 1.5), relief: s.in32(0.1, 0.5), dark: s.in32(0, 0.6), speck: s.in32(0, 0.15), edge: s.in32(0, 0.3)}
	l.colour = hue(s.in(0.35, 0.95), s.in(0.98, 1.1), s.in(0.8, 1.02))
	if s.chance(0.6) {
		l.faces = s.count(6, 9)
	}
	if s.depth[texelAt(x, y)] > 0 {
		s.lay(c, &l)
	}
}

// cracks opens dark cracks and holes where a noise is near its middle or low.
func (s *scene) cracks() {
	f := s.field(s.log(2, 12), 4, 0.6)
	wide, dark := s.in32(0.02, 0.12), s.in32(0.4, 0.97)
	holes := s.chance(0.4)
	for i := range f {
		d := max(f[i], -f[i]) / wide
		if holes {
			d = (f[i] + 1.6) / wide
		}
		if d < 1.5 {
			s.ground.light[i] = times(s.ground.light[i], 1-s.plugShare(i)*dark*(1-ease(0.5, 1.5, d)))
		}
	}
}

// blot lays a thin uneven coat of a colour on parts of the plug.
func (s *scene) blot(c rgb, thick, mm float64) {
	f := s.field(mm, 4, 0.7)
	edge, soft := s.in32(0, 1.5), s.in32(0.1, 1)
	for i := range f {
		if k := float32(thick) * ease(edge-soft, edge+soft, f[i]); k > 0 {
			s.ground.light[i] = mix(s.ground.light[i], c, k*s.plugShare(i))
		}
	}
}
