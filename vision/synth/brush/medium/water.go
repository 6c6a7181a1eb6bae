package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/tray"
)

// Glints strews small mirrors over the medium: wet faces of crumbs and grains that throw the lamp back.
func (s *Setting) Glints() {
	count := int(s.Ratio(5, 120))
	if s.Chance(0.25) {
		count = int(s.Ratio(100, 900))
	}
	small, big := 0.05, s.Ratio(0.1, 0.5)
	bright := s.Between32(0.3, 1.5)
	for k := range s.Layout.Plugs {
		g := &s.Layout.Plugs[k]
		for n := int(float64(float64(count)*g.Area()) / (tray.UsualArea * canvas.PerMM * canvas.PerMM)); n > 0; n-- {
			s.glint(g.Somewhere(s.Dice, 2), float64(s.Ratio(small, big)/2*canvas.PerMM), min(4, float32(bright*float32(s.Ratio(0.3, 3)))))
		}
	}
}

// glint lays one mirror, longer than wide.
func (s *Setting) glint(at num.Vec, radius float64, bright float32) {
	way, long := s.Direction(), s.Between(1, 2.2)
	reach := float64(radius*long) + 1
	x0, x1 := canvas.Span(at.X-reach, at.X+reach)
	y0, y1 := canvas.Span(at.Y-reach, at.Y+reach)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			d := num.At(float64(x)+0.5, float64(y)+0.5).Minus(at)
			u, v := d.Dot(way)/long, d.Cross(way)
			r := num.At(u, v).Length()
			share := num.Within01(float32(radius-r) + 0.5)
			if radius < 0.5 {
				share = float32(share * float32(4*radius*radius))
			}
			if share > 0 {
				s.Lay(y*canvas.Side+x, share, num.RGB{bright, bright, bright})
			}
		}
	}
}

// Drops lays drops of water over medium and roots; what lies under a drop cannot be told.
func (s *Setting) Drops() {
	count, big := int(s.Ratio(1, 40)), s.Ratio(0.5, 3)
	for k := range s.Layout.Plugs {
		g := &s.Layout.Plugs[k]
		for n := int(float64(float64(count)*g.Area()/(tray.UsualArea*canvas.PerMM*canvas.PerMM)) + s.Float64()); n > 0; n-- {
			s.drop(g.Somewhere(s.Dice, 4), float64(s.Ratio(0.25, big)/2*canvas.PerMM))
		}
	}
}

// drop lays one drop: dark toward the lamp, bright away from it where it gathers the light, with the lamp's mirror image.
func (s *Setting) drop(at num.Vec, radius float64) {
	l := newLump(s.Dice, at, radius, false)
	l.long, l.tall = s.Between32(1, 1.15), s.Between32(0.5, 0.9)
	s.CastDisc(at, float32(radius), float32(0.4*radius), 0.35, &s.Lamp)
	below := s.meanLight(at, radius)
	reach := float64(1.5*radius) + 1
	x0, x1 := canvas.Span(at.X-reach, at.X+reach)
	y0, y1 := canvas.Span(at.Y-reach, at.Y+reach)
	sky := s.Between32(0.03, 0.25)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			d := num.At(float64(x)+0.5, float64(y)+0.5).Minus(at)
			inside, nx, ny, nz := l.surface(float32(d.X)/l.long, float32(d.Y)*l.long)
			share := num.Within01(inside + 0.5)
			if share <= 0 {
				continue
			}
			i := y*canvas.Side + x
			gather := 0.75 - float32(0.6*s.Lamp.Direct*(float32(nx*s.Lamp.To[0])+float32(ny*s.Lamp.To[1])))
			light := num.Times(below, float32(gather*(0.6+float32(0.4*nz))))
			fresnel := 0.1 + float32(0.9*(1-nz)*(1-nz))
			m := float32(4*s.Lamp.Mirror(nx, ny, nz, 7)*(0.2+s.Lamp.Direct)) + float32(sky*fresnel)
			s.Lay(i, share, limitedTo(num.Sum(light, num.RGB{m, m, m}), 4))
		}
	}
}

// limitedTo keeps every part of a colour at most at k.
func limitedTo(c num.RGB, k float32) num.RGB {
	return num.RGB{min(c[0], k), min(c[1], k), min(c[2], k)}
}

// meanLight is the mean of the painting over a square of a radius.
func (s *Setting) meanLight(at num.Vec, radius float64) num.RGB {
	x0, x1 := canvas.Span(at.X-radius, at.X+radius)
	y0, y1 := canvas.Span(at.Y-radius, at.Y+radius)
	var total num.RGB
	n := 0
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			total = num.Sum(total, s.Light[y*canvas.Side+x])
			n++
		}
	}
	if n == 0 {
		return total
	}
	return num.Times(total, 1/float32(n))
}

// Films lays puddles between the crumbs: they darken the medium, and where they happen to mirror the sky they hide what is below.
func (s *Setting) Films() {
	edge, shift := s.Between32(0.2, 1.2), s.IntN(canvas.Side)
	sky := s.Between32(0.1, 0.8)
	for i, in := range s.Ground.Inside {
		if in < 0 {
			continue
		}
		x, y := i%canvas.Side, i/canvas.Side
		f := float32(0.7*s.Broad.Nearest(x+shift, y)) + float32(0.5*s.Mid.Nearest(x+shift, y))
		wet := num.Ease(edge-0.2, edge+0.1, f)
		if wet <= 0 {
			continue
		}
		s.Darken(i, 1-float32(0.4*wet*(1-s.White[i]-s.Brown[i])))
		dx, dy := s.Mid.Nearest(x+shift+1, y)-s.Mid.Nearest(x+shift, y), s.Mid.Nearest(x+shift, y+1)-s.Mid.Nearest(x+shift, y)
		z := 1 / num.Sqrt32(1+float32(9*dx*dx)+float32(9*dy*dy))
		m := s.Lamp.Mirror(float32(-3*dx*z), float32(-3*dy*z), z, 6)
		m = float32(m * num.Ease(edge, edge+0.3, f) * num.Ease(0.75, 0.3, s.Ground.Cover[i]))
		if m > 0.05 {
			s.Lay(i, float32(m*0.9), num.RGB{sky * 1.5, sky * 1.5, sky * 1.6})
		}
	}
}
