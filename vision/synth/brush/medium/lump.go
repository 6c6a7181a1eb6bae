package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// lump is a single grain that lies on the medium: perlite, a crumb, a chip, a stone, a prill.
type lump struct {
	at     num.Vec
	radius float64    // texels
	long   float32    // length over width
	turn   num.Vec    // direction of its length
	faces  []face     // of a broken grain; none for a round one
	wobble [3]num.Vec // of a round one's outline
	tall   float32    // height over radius

	colour num.RGB
	grain  float32 // unevenness of tone
	holes  float32 // share of dark pores
	layers float32 // depth of stripes along its length
	gloss  float32
	sunk   float32 // how deep it lies in the medium, 0..1
	shadow float32
	tone   [2]int
}

// face is a plane of a broken grain: its outline's edge and how steeply the grain rises from there.
type face struct {
	n    num.Vec
	edge float32 // distance from the middle, radii
	rise float32
}

// newLump draws a lump's shape.
func newLump(d num.Dice, at num.Vec, radius float64, broken bool) *lump {
	l := &lump{at: at, radius: radius, long: d.Between32(1, 1.5), turn: d.Direction(), tall: d.Between32(0.5, 1),
		tone: [2]int{d.IntN(canvas.Side), d.IntN(canvas.Side)}, shadow: d.Between32(0.3, 0.7)}
	for k := range l.wobble {
		l.wobble[k] = d.Direction().Times(d.Between(0, 0.22) / float64(k+1))
	}
	if broken {
		turn := d.Angle()
		for n := d.Whole(4, 7); n > 0; n-- {
			turn += d.Between(0.7, 1.5)
			l.faces = append(l.faces, face{num.Toward(turn), d.Between32(0.65, 1.05), d.Between32(0.4, 2)})
		}
		l.faces = append(l.faces, face{num.Toward(turn + 2.5), 0.85, 0.7}, face{num.Toward(turn + 4), 0.85, 0.7})
	}
	return l
}

// paint lays the lump and its shadow.
func (l *lump) paint(s *Setting) {
	p := s.Painting
	height := float32(float32(l.radius) * l.tall * (1 - float32(0.7*l.sunk)))
	p.CastDisc(l.at, float32(l.radius*0.9), height, float32(l.shadow*(1-float32(0.6*l.sunk))), &s.Lamp)
	reach := float64(l.radius*float64(l.long)*1.3) + 1
	x0, x1 := canvas.Span(l.at.X-reach, l.at.X+reach)
	y0, y1 := canvas.Span(l.at.Y-reach, l.at.Y+reach)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			l.touch(s, x, y)
		}
	}
}

// touch lays the lump's part in one texel.
func (l *lump) touch(s *Setting, x, y int) {
	d := num.At(float64(x)+0.5, float64(y)+0.5).Minus(l.at)
	u := float32(d.Dot(l.turn)) / l.long
	v := float32(l.turn.Cross(d)) * l.long
	inside, nx, ny, nz := l.surface(float32(u), v)
	if inside < -1 {
		return
	}
	i := y*canvas.Side + x
	share := num.Within01(inside + 0.5)
	if l.radius < 3 {
		share = canvas.Within(inside, 0.8, 0.6)
	}
	if l.sunk > 0 {
		share = float32(share * num.Ease(-0.08, 0.08, 1.1-float32(0.9*l.sunk)-s.Ground.Cover[i]+float32(0.12*(inside/float32(l.radius)))))
	}
	if share <= 0 {
		return
	}
	tx, ty := x+l.tone[0], y+l.tone[1]
	grain := float32(0.6*s.Grain.Nearest(tx, ty)) + float32(0.5*s.Mid.Nearest(2*tx, 2*ty))
	tone := 1 + float32(l.grain*grain)
	if l.layers > 0 {
		stripe := s.Mid.At(float32(v*1.7)+float32(l.tone[0]), float32(l.tone[1]))
		tone += float32(l.layers * stripe)
	}
	if l.holes > 0 {
		tone = float32(tone * (1 - float32(0.6*num.Ease(1.5-float32(2*l.holes), 2.1-float32(2*l.holes), s.Grain.Nearest(ty, tx)))))
	}
	turned := l.turn.Times(float64(nx)).Plus(l.turn.Quarter().Times(float64(ny)))
	nx, ny = float32(turned.X), float32(turned.Y)
	nx, ny = nx+float32(0.25*l.grain*s.Grain.Nearest(tx+9, ty)), ny+float32(0.25*l.grain*s.Grain.Nearest(tx, ty+9))
	light := float32(max(0.15, tone) * max(0.1, s.Lamp.On(nx, ny, nz)))
	light = float32(light * (0.7 + float32(0.3*nz)))
	colour := num.Times(l.colour, light)
	if l.gloss > 0 {
		m := float32(l.gloss * s.Lamp.Mirror(nx, ny, nz, 5))
		colour = num.Sum(colour, num.RGB{m, m, m})
	}
	s.Lay(i, share, colour)
}

// surface is the distance inside the outline, texels, and the surface's normal, at a place in the lump's own directions.
func (l *lump) surface(u, v float32) (inside, nx, ny, nz float32) {
	r := float32(l.radius)
	if l.faces == nil {
		return l.rounded(u, v, r)
	}
	low := float32(l.tall * r)
	inside = 1e9
	nx, ny, nz = float32(0.2*l.wobble[0].X), float32(0.2*l.wobble[0].Y), 0.98
	for _, f := range l.faces {
		fx, fy := float32(f.n.X), float32(f.n.Y)
		from := float32(f.edge*r) - float32(u*fx) - float32(v*fy)
		if from < inside {
			inside = from
		}
		if h := float32(from * f.rise); h < low {
			low = h
			z := 1 / num.Sqrt32(1+float32(f.rise*f.rise))
			nx, ny, nz = float32(fx*f.rise*z), float32(fy*f.rise*z), z
		}
	}
	if inside < 0.7 {
		nz = num.Sqrt32(max(0.05, 1-float32(nx*nx)-float32(ny*ny)))
	}
	return inside, nx, ny, nz
}

// rounded is surface for a round lump.
func (l *lump) rounded(u, v, r float32) (inside, nx, ny, nz float32) {
	far := num.Sqrt32(float32(u*u)+float32(v*v)) + 1e-6
	c, s := u/far, v/far
	c2, s2 := float32(c*c)-float32(s*s), float32(2*c*s)
	c3, s3 := float32(c2*c)-float32(s2*s), float32(c2*s)+float32(s2*c)
	edge := 1 + float32(c2*float32(l.wobble[0].X)) + float32(s2*float32(l.wobble[0].Y)) +
		float32(c3*float32(l.wobble[1].X)) + float32(s3*float32(l.wobble[1].Y))
	edge = float32(edge * r)
	f := min(1, far/edge)
	z := num.Sqrt32(max(0.03, 1-float32(f*f)))
	flat := 1 - l.tall
	z = z + float32(flat*(1-z))
	k := num.Sqrt32(max(0, 1-float32(z*z)))
	return edge - far, float32(c * k), float32(s * k), z
}
