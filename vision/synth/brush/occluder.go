package brush

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
	"traygauge/vision/synth/brush/tray"
)

// occluder is a thing from outside the plug that lies or is held over it.
type occluder struct {
	shape func(at num.Vec) float64 // distance inside, texels
	light func(i int, at num.Vec, inside float32) num.RGB
	high  float32 // over the tray, texels
}

// occlude lays one thing over part or all of the drawing.
func (s *scene) occlude() {
	kind := num.Of(s.Dice, []num.Weighted[func() occluder]{
		{Weight: 2, Thing: s.finger}, {Weight: 1.5, Thing: s.sheet}, {Weight: 2, Thing: s.labelStrip}, {Weight: 2,
			Thing: s.leaf}, {Weight: 1, Thing: s.tool}, {Weight: 1, Thing: s.fabric},
	})
	o := kind()
	s.dropShade(&o)
	for i := range s.Light {
		at := num.At(float64(i%canvas.Side)+0.5, float64(i/canvas.Side)+0.5)
		in := float32(o.shape(at))
		if share := num.Within01(in + 0.5); share > 0 {
			s.Hide(i, share, o.light(i, at, in))
		}
	}
}

// dropShade darkens the drawing by the occluder's shadow.
func (s *scene) dropShade(o *occluder) {
	away := s.Lamp.ShadowOf(float32(o.high * s.Lamp.Direct))
	spread := 2 + float32(s.Lamp.Soft*o.high*0.7)
	for i := range s.Light {
		at := num.At(float64(i%canvas.Side)+0.5, float64(i/canvas.Side)+0.5).Minus(away)
		s.Darken(i, 1-float32(0.6*num.Ease(-spread, spread, float32(o.shape(at)))))
	}
}

// place draws where an occluder lies, its direction and how far over the middle it reaches.
func (s *scene) place() (at, way num.Vec) {
	way = s.Direction()
	return num.At(canvas.Side/2, canvas.Side/2).Along(way.Quarter(), s.Between(-150, 150)), way
}

// finger is one finger or several side by side.
func (s *scene) finger() occluder {
	at, way := s.place()
	tip := s.Between(-200, 100)
	half := float64(s.Between(7, 11) * canvas.PerMM)
	count := s.Whole(1, 3)
	skin := num.Tint(s.Ratio(0.04, 0.5), s.Between(1.3, 1.9), s.Between(0.5, 0.8))
	inside := func(p num.Vec) float64 {
		d := p.Minus(at)
		u, v := d.Dot(way)-tip, d.Cross(way)
		best := -1e9
		for k := range count {
			off := v - float64(2*half*float64(k))
			best = max(best, half-num.At(min(0, u-float64(30*float64(k))), off).Length())
		}
		return best
	}
	return occluder{inside, func(i int, p num.Vec, in float32) num.RGB {
		f := min(1, in/float32(half))
		nz := num.Sqrt32(max(0.05, 1-float32((1-f)*(1-f))))
		shade := 0.55 + float32(0.45*nz) + float32(0.05*s.Mid[i]) + float32(0.04*s.Grain[i])
		lines := float32(p.Minus(at).Dot(way)) / 9
		shade -= float32(0.04 * s.Mid.At(float32(lines*20), float32(p.Minus(at).Cross(way))*0.2))
		return num.Times(num.Mix(num.By(skin, num.RGB{1.1, 0.85, 0.8}), skin, nz), shade)
	}, s.Between32(40, 200)}
}

// sheet is a sheet of paper or card with a straight edge, plain, ruled or printed.
func (s *scene) sheet() occluder {
	at, way := s.place()
	at = at.Along(way, s.Between(-150, 150))
	colour := num.Tint(s.Between(0.45, 0.95), s.Between(0.95, 1.1), s.Between(0.8, 1.02))
	ruled := s.Chance(0.5)
	gap, ink := s.Between(30, 90), s.Between32(0.2, 0.9)
	print := texture.NewCells(s.Dice, s.Between(8, 16), 1)
	corner := s.Between(-200, 400)
	inside := func(p num.Vec) float64 {
		d := p.Minus(at)
		return min(d.Dot(way), d.Cross(way)+corner)
	}
	return occluder{inside, func(i int, p num.Vec, in float32) num.RGB {
		light := num.Times(colour, 1+float32(0.02*s.Grain[i])+float32(0.03*s.Broad[i]))
		if !ruled {
			return light
		}
		d := p.Minus(at)
		row := d.Cross(way)/gap + 100
		f := row - float64(int(row))
		if f < 0.4 && d.Dot(way) > 40 { // a line of what could be writing
			near, _, c := print.Near(float32(p.X), float32(p.Y))
			if c.Tone < 0.7 && near > 0.25 && near < 0.5 {
				light = num.Times(light, 1-ink)
			}
		}
		return light
	}, s.Between32(2, 60)}
}

// labelStrip is a stuck-in plant label of plastic.
func (s *scene) labelStrip() occluder {
	at, way := s.place()
	half, tip := float64(s.Between(4, 11)*canvas.PerMM), s.Between(-250, 200)
	point := float64(half * s.Between(0, 2))
	colour := num.Tint(s.Ratio(0.1, 0.9), s.Ratio(0.4, 2.4), s.Ratio(0.4, 2))
	if s.Chance(0.5) {
		colour = num.Tint(s.Between(0.6, 0.95), 1, 0.98)
	}
	bend := s.Between32(-0.15, 0.15)
	marks := texture.NewCells(s.Dice, s.Between(14, 30), 2)
	return occluder{func(p num.Vec) float64 {
		d := p.Minus(at)
		u, v := d.Dot(way)-tip, math.Abs(d.Cross(way))
		narrow := 0.0
		if u < point {
			narrow = float64((point - u) / max(1, point) * half * 0.9)
		}
		return min(u, half-v-narrow)
	}, func(i int, p num.Vec, in float32) num.RGB {
		v := float32(p.Minus(at).Cross(way) / half)
		light := num.Times(colour, 1+float32(bend*v)+float32(0.02*s.Mid[i]))
		near, _, c := marks.Near(float32(p.X), float32(p.Y))
		if c.Hue < 0.35 && near < 0.22 && v*v < 0.5 {
			light = num.Times(light, 0.25)
		}
		return light
	}, s.Between32(5, 60)}
}

// leaf is a green leaf that hangs over the plug.
func (s *scene) leaf() occluder {
	at, way := s.place()
	at = at.Along(way, s.Between(-160, 160))
	half, long := s.Between(80, 230), s.Between(1, 2.4)
	green := num.Tint(s.Ratio(0.06, 0.3), s.Between(0.3, 0.9), s.Between(0.1, 0.5))
	veins := s.Between(25, 70)
	return occluder{func(p num.Vec) float64 {
		d := p.Minus(at)
		u, v := d.Dot(way)/long, math.Abs(d.Cross(way))
		far := num.At(u, v+float64(0.5*half*0.5*u*u/(half*half))).Length()
		i := min(canvas.Side-1, max(0, int(p.Y)))*canvas.Side + min(canvas.Side-1, max(0, int(p.X)))
		return half - far + float64(3*s.Mid[i])
	}, func(i int, p num.Vec, in float32) num.RGB {
		d := p.Minus(at)
		u, v := d.Dot(way), math.Abs(d.Cross(way))
		w := (u-float64(0.8*v))/veins + 100
		f := float32(w-float64(int(w)))*2 - 1
		vein := max(num.Ease(0.1, 0.03, max(f, -f)), num.Ease(4, 2, float32(v)))
		shade := 1 + float32(0.12*s.Mid[i]) + float32(0.05*s.Grain[i]) + float32(0.3*vein) + float32(0.15*(max(f, -f)-0.5))
		return num.Times(num.Mix(green, num.RGB{0.3, 0.35, 0.15}, float32(0.3*vein)), shade)
	}, s.Between32(20, 200)}
}

// tool is a metal or plastic rod.
func (s *scene) tool() occluder {
	at, way := s.place()
	half, tip := float64(s.Between(1.5, 8)*canvas.PerMM), s.Between(-250, 150)
	colour := num.Tint(s.Ratio(0.04, 0.6), s.Between(0.9, 1.15), s.Between(0.85, 1.1))
	streak := s.Between32(0.2, 1.6)
	return occluder{func(p num.Vec) float64 {
		d := p.Minus(at)
		return half - num.At(min(0, d.Dot(way)-tip), d.Cross(way)).Length()
	}, func(i int, p num.Vec, in float32) num.RGB {
		v := float32(p.Minus(at).Cross(way) / half)
		brushed := s.Mid.At(float32(p.Minus(at).Dot(way))*0.05, float32(v*90))
		m := float32(streak * max(0, num.Ease(0.35, 0, max(v-0.3, 0.3-v))+float32(0.1*brushed)))
		return num.Sum(num.Times(colour, 1-float32(0.6*v*v)+float32(0.1*brushed)), num.RGB{m * 0.5, m * 0.5, m * 0.5})
	}, s.Between32(10, 120)}
}

// fabric is a cloth or a glove.
func (s *scene) fabric() occluder {
	at, way := s.place()
	at = at.Along(way, s.Between(-150, 150))
	t := tray.NewTable(s.Dice)
	t.Weave = s.Between32(0.2, 0.7)
	t.Colour = num.Tint(s.Ratio(0.02, 0.7), s.Ratio(0.5, 2), s.Ratio(0.5, 2))
	return occluder{func(p num.Vec) float64 {
		i := min(canvas.Side-1, max(0, int(p.Y)))*canvas.Side + min(canvas.Side-1, max(0, int(p.X)))
		return p.Minus(at).Dot(way) + float64(25*s.Broad[i])
	}, func(i int, p num.Vec, in float32) num.RGB {
		fold := 0.75 + float32(0.2*s.Broad[i]) + float32(0.25*num.Ease(0, 12, in))
		return num.Times(t.Colour, float32(fold*t.Woven(i, s.Textures)))
	}, s.Between32(5, 60)}
}
