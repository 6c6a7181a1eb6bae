package brush

import "math"

// occluder is a thing from outside the plug that lies or is held over it.
type occluder struct {
	shape func(at vec) float64 // distance inside, texels
	light func(i int, at vec, inside float32) rgb
	high  float32 // over the tray, texels
}

// occlude lays one thing over part or all of the drawing.
func (s *scene) occlude() {
	kind := of(s.dice, []weighted[func() occluder]{
		{2, s.finger}, {1.5, s.sheet}, {2, s.labelStrip}, {2, s.leaf}, {1, s.tool}, {1, s.fabric},
	})
	o := kind()
	s.dropShade(&o)
	for i := range s.Light {
		at := vec{float64(i%side) + 0.5, float64(i/side) + 0.5}
		in := float32(o.shape(at))
		if share := within01(in + 0.5); share > 0 {
			s.hide(i, share, o.light(i, at, in))
		}
	}
}

// dropShade darkens the drawing by the occluder's shadow.
func (s *scene) dropShade(o *occluder) {
	away := s.lamp.shadowOf(float32(o.high * s.lamp.direct))
	spread := 2 + float32(s.lamp.soft*o.high*0.7)
	for i := range s.Light {
		at := vec{float64(i%side) + 0.5, float64(i/side) + 0.5}.minus(away)
		s.darken(i, 1-float32(0.6*ease(-spread, spread, float32(o.shape(at)))))
	}
}

// place draws where an occluder lies, its direction and how far over the middle it reaches.
func (s *scene) place() (at, way vec) {
	way = s.direction()
	return vec{side / 2, side / 2}.along(way.quarter(), s.between(-150, 150)), way
}

// finger is one finger or several side by side.
func (s *scene) finger() occluder {
	at, way := s.place()
	tip := s.between(-200, 100)
	half := float64(s.between(7, 11) * perMM)
	count := s.whole(1, 3)
	skin := tint(s.ratio(0.04, 0.5), s.between(1.3, 1.9), s.between(0.5, 0.8))
	inside := func(p vec) float64 {
		d := p.minus(at)
		u, v := d.dot(way)-tip, d.cross(way)
		best := -1e9
		for k := range count {
			off := v - float64(2*half*float64(k))
			best = max(best, half-vec{min(0, u-float64(30*float64(k))), off}.length())
		}
		return best
	}
	return occluder{inside, func(i int, p vec, in float32) rgb {
		f := min(1, in/float32(half))
		nz := sqrt32(max(0.05, 1-float32((1-f)*(1-f))))
		shade := 0.55 + float32(0.45*nz) + float32(0.05*s.mid[i]) + float32(0.04*s.grain[i])
		lines := float32(p.minus(at).dot(way)) / 9
		shade -= float32(0.04 * s.mid.at(float32(lines*20), float32(p.minus(at).cross(way))*0.2))
		return times(mix(by(skin, rgb{1.1, 0.85, 0.8}), skin, nz), shade)
	}, s.between32(40, 200)}
}

// sheet is a sheet of paper or card with a straight edge, plain, ruled or printed.
func (s *scene) sheet() occluder {
	at, way := s.place()
	at = at.along(way, s.between(-150, 150))
	colour := tint(s.between(0.45, 0.95), s.between(0.95, 1.1), s.between(0.8, 1.02))
	ruled := s.chance(0.5)
	gap, ink := s.between(30, 90), s.between32(0.2, 0.9)
	print := newCells(s.dice, s.between(8, 16), 1)
	corner := s.between(-200, 400)
	inside := func(p vec) float64 {
		d := p.minus(at)
		return min(d.dot(way), d.cross(way)+corner)
	}
	return occluder{inside, func(i int, p vec, in float32) rgb {
		light := times(colour, 1+float32(0.02*s.grain[i])+float32(0.03*s.broad[i]))
		if !ruled {
			return light
		}
		d := p.minus(at)
		row := d.cross(way)/gap + 100
		f := row - float64(int(row))
		if f < 0.4 && d.dot(way) > 40 { // a line of what could be writing
			near, _, c := print.near(float32(p.x), float32(p.y))
			if c.tone < 0.7 && near > 0.25 && near < 0.5 {
				light = times(light, 1-ink)
			}
		}
		return light
	}, s.between32(2, 60)}
}

// labelStrip is a stuck-in plant label of plastic.
func (s *scene) labelStrip() occluder {
	at, way := s.place()
	half, tip := float64(s.between(4, 11)*perMM), s.between(-250, 200)
	point := float64(half * s.between(0, 2))
	colour := tint(s.ratio(0.1, 0.9), s.ratio(0.4, 2.4), s.ratio(0.4, 2))
	if s.chance(0.5) {
		colour = tint(s.between(0.6, 0.95), 1, 0.98)
	}
	bend := s.between32(-0.15, 0.15)
	marks := newCells(s.dice, s.between(14, 30), 2)
	return occluder{func(p vec) float64 {
		d := p.minus(at)
		u, v := d.dot(way)-tip, math.Abs(d.cross(way))
		narrow := 0.0
		if u < point {
			narrow = float64((point - u) / max(1, point) * half * 0.9)
		}
		return min(u, half-v-narrow)
	}, func(i int, p vec, in float32) rgb {
		v := float32(p.minus(at).cross(way) / half)
		light := times(colour, 1+float32(bend*v)+float32(0.02*s.mid[i]))
		near, _, c := marks.near(float32(p.x), float32(p.y))
		if c.hue < 0.35 && near < 0.22 && v*v < 0.5 {
			light = times(light, 0.25)
		}
		return light
	}, s.between32(5, 60)}
}

// leaf is a green leaf that hangs over the plug.
func (s *scene) leaf() occluder {
	at, way := s.place()
	at = at.along(way, s.between(-160, 160))
	half, long := s.between(80, 230), s.between(1, 2.4)
	green := tint(s.ratio(0.06, 0.3), s.between(0.3, 0.9), s.between(0.1, 0.5))
	veins := s.between(25, 70)
	return occluder{func(p vec) float64 {
		d := p.minus(at)
		u, v := d.dot(way)/long, math.Abs(d.cross(way))
		far := vec{u, v + float64(0.5*half*0.5*u*u/(half*half))}.length()
		i := min(side-1, max(0, int(p.y)))*side + min(side-1, max(0, int(p.x)))
		return half - far + float64(3*s.mid[i])
	}, func(i int, p vec, in float32) rgb {
		d := p.minus(at)
		u, v := d.dot(way), math.Abs(d.cross(way))
		w := (u-float64(0.8*v))/veins + 100
		f := float32(w-float64(int(w)))*2 - 1
		vein := max(ease(0.1, 0.03, max(f, -f)), ease(4, 2, float32(v)))
		shade := 1 + float32(0.12*s.mid[i]) + float32(0.05*s.grain[i]) + float32(0.3*vein) + float32(0.15*(max(f, -f)-0.5))
		return times(mix(green, rgb{0.3, 0.35, 0.15}, float32(0.3*vein)), shade)
	}, s.between32(20, 200)}
}

// tool is a metal or plastic rod.
func (s *scene) tool() occluder {
	at, way := s.place()
	half, tip := float64(s.between(1.5, 8)*perMM), s.between(-250, 150)
	colour := tint(s.ratio(0.04, 0.6), s.between(0.9, 1.15), s.between(0.85, 1.1))
	streak := s.between32(0.2, 1.6)
	return occluder{func(p vec) float64 {
		d := p.minus(at)
		return half - vec{min(0, d.dot(way)-tip), d.cross(way)}.length()
	}, func(i int, p vec, in float32) rgb {
		v := float32(p.minus(at).cross(way) / half)
		brushed := s.mid.at(float32(p.minus(at).dot(way))*0.05, float32(v*90))
		m := float32(streak * max(0, ease(0.35, 0, max(v-0.3, 0.3-v))+float32(0.1*brushed)))
		return sum(times(colour, 1-float32(0.6*v*v)+float32(0.1*brushed)), rgb{m * 0.5, m * 0.5, m * 0.5})
	}, s.between32(10, 120)}
}

// fabric is a cloth or a glove.
func (s *scene) fabric() occluder {
	at, way := s.place()
	at = at.along(way, s.between(-150, 150))
	t := newTable(s.dice)
	t.weave = s.between32(0.2, 0.7)
	t.colour = tint(s.ratio(0.02, 0.7), s.ratio(0.5, 2), s.ratio(0.5, 2))
	return occluder{func(p vec) float64 {
		i := min(side-1, max(0, int(p.y)))*side + min(side-1, max(0, int(p.x)))
		return p.minus(at).dot(way) + float64(25*s.broad[i])
	}, func(i int, p vec, in float32) rgb {
		fold := 0.75 + float32(0.2*s.broad[i]) + float32(0.25*ease(0, 12, in))
		return times(t.colour, float32(fold*t.woven(i, s.textures)))
	}, s.between32(5, 60)}
}
