package brush

import "math"

// paintLight lays the lamp's unevenness and shadows from outside over the finished drawing. Light changes no labels.
func (s *scene) paintLight() {
	if !s.layout.loose {
		s.rimShadow(float32(s.ratio(1, 40)), s.between32(0.3, 0.9))
	}
	slope := s.direction().times(s.between(0, 0.26) / side)
	for i := range s.Light {
		at := vec{float64(i%side) - side/2, float64(i/side) - side/2}
		s.Light[i] = times(s.Light[i], float32(1+at.dot(slope)))
	}
	if s.chance(0.15) {
		s.castFrom(s.between32(0.2, 0.7), float32(s.ratio(1, 60)))
	}
}

// rimShadow darkens plugs that lie so many texels below the tray's rim.
func (s *scene) rimShadow(sunk, depth float32) {
	toward := s.lamp.shadowOf(-sunk)
	ox, oy := int(max(-side, min(side, toward.x))), int(max(-side, min(side, toward.y)))
	spread := 1.5 + float32(s.lamp.soft*sunk*0.6)
	depth = float32(depth * s.lamp.direct)
	close := float32(0.35 * depth)
	for i, in := range s.edge {
		if in < 0 {
			continue
		}
		x, y := min(side-1, max(0, i%side+ox)), min(side-1, max(0, i/side+oy))
		dark := float32(depth * (1 - ease(-spread, spread, s.edge[y*side+x])))
		dark = max(dark, float32(close*(1-ease(0, 4+sunk, in))))
		s.darken(i, 1-dark)
	}
}

// castFrom darkens a part of the drawing by a shadow whose edge is soft over spread texels: a straight edge, a bar or a round thing.
func (s *scene) castFrom(depth, spread float32) {
	at := vec{side / 2, side / 2}.along(s.direction(), s.between(0, 180))
	way := s.direction()
	half := s.ratio(20, 160)
	kind := s.IntN(3)
	cool := mix(rgb{1, 1, 1}, rgb{0.96, 1, 1.06}, s.between32(0, 1)) // the sky's light in the shade
	for i := range s.Light {
		d := vec{float64(i % side), float64(i / side)}.minus(at)
		var in float64
		switch kind {
		case 0:
			in = d.dot(way)
		case 1:
			in = half - math.Abs(d.dot(way))
		case 2:
			in = half - d.length()
		}
		dark := float32(depth * ease(-spread, spread, float32(in)+float32(4*s.broad[i])))
		s.Light[i] = mix(s.Light[i], by(times(s.Light[i], 1-depth), cool), dark/depth)
	}
}
