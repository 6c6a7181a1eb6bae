package brush

// lump is a single grain that lies on the medium: perlite, a crumb, a chip, a stone, a prill.
type lump struct {
	at     vec
	radius float64 // texels
	long   float32 // length over width
	turn   vec     // direction of its length
	faces  []face  // of a broken grain; none for a round one
	wobble [3]vec  // of a round one's outline
	tall   float32 // height over radius

	colour rgb
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
	n    vec
	edge float32 // distance from the middle, radii
	rise float32
}

// newLump draws a lump's shape.
func newLump(d dice, at vec, radius float64, broken bool) *lump {
	l := &lump{at: at, radius: radius, long: d.between32(1, 1.5), turn: d.direction(), tall: d.between32(0.5, 1),
		tone: [2]int{d.IntN(side), d.IntN(side)}, shadow: d.between32(0.3, 0.7)}
	for k := range l.wobble {
		l.wobble[k] = d.direction().times(d.between(0, 0.22) / float64(k+1))
	}
	if broken {
		turn := d.angle()
		for n := d.whole(4, 7); n > 0; n-- {
			turn += d.between(0.7, 1.5)
			l.faces = append(l.faces, face{toward(turn), d.between32(0.65, 1.05), d.between32(0.4, 2)})
		}
		l.faces = append(l.faces, face{toward(turn + 2.5), 0.85, 0.7}, face{toward(turn + 4), 0.85, 0.7})
	}
	return l
}

// paint lays the lump and its shadow.
func (l *lump) paint(s *scene) {
	p := s.painting
	height := float32(float32(l.radius) * l.tall * (1 - float32(0.7*l.sunk)))
	p.castDisc(l.at, float32(l.radius*0.9), height, float32(l.shadow*(1-float32(0.6*l.sunk))), &s.lamp)
	reach := float64(l.radius*float64(l.long)*1.3) + 1
	x0, x1 := span(l.at.x-reach, l.at.x+reach)
	y0, y1 := span(l.at.y-reach, l.at.y+reach)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			l.touch(s, x, y)
		}
	}
}

// touch lays the lump's part in one texel.
func (l *lump) touch(s *scene, x, y int) {
	d := vec{float64(x) + 0.5, float64(y) + 0.5}.minus(l.at)
	u := float32(d.dot(l.turn)) / l.long
	v := float32(l.turn.cross(d)) * l.long
	inside, nx, ny, nz := l.surface(float32(u), v)
	if inside < -1 {
		return
	}
	i := y*side + x
	share := within01(inside + 0.5)
	if l.radius < 3 {
		share = within(inside, 0.8, 0.6)
	}
	if l.sunk > 0 {
		share = float32(share * ease(-0.08, 0.08, 1.1-float32(0.9*l.sunk)-s.ground.cover[i]+float32(0.12*(inside/float32(l.radius)))))
	}
	if share <= 0 {
		return
	}
	tx, ty := x+l.tone[0], y+l.tone[1]
	grain := float32(0.6*s.grain.nearest(tx, ty)) + float32(0.5*s.mid.nearest(2*tx, 2*ty))
	tone := 1 + float32(l.grain*grain)
	if l.layers > 0 {
		stripe := s.mid.at(float32(v*1.7)+float32(l.tone[0]), float32(l.tone[1]))
		tone += float32(l.layers * stripe)
	}
	if l.holes > 0 {
		tone = float32(tone * (1 - float32(0.6*ease(1.5-float32(2*l.holes), 2.1-float32(2*l.holes), s.grain.nearest(ty, tx)))))
	}
	turned := l.turn.times(float64(nx)).plus(l.turn.quarter().times(float64(ny)))
	nx, ny = float32(turned.x), float32(turned.y)
	nx, ny = nx+float32(0.25*l.grain*s.grain.nearest(tx+9, ty)), ny+float32(0.25*l.grain*s.grain.nearest(tx, ty+9))
	light := float32(max(0.15, tone) * max(0.1, s.lamp.on(nx, ny, nz)))
	light = float32(light * (0.7 + float32(0.3*nz)))
	colour := times(l.colour, light)
	if l.gloss > 0 {
		m := float32(l.gloss * s.lamp.mirror(nx, ny, nz, 5))
		colour = sum(colour, rgb{m, m, m})
	}
	s.lay(i, share, colour)
}

// surface is the distance inside the outline, texels, and the surface's normal, at a place in the lump's own directions.
func (l *lump) surface(u, v float32) (inside, nx, ny, nz float32) {
	r := float32(l.radius)
	if l.faces == nil {
		return l.rounded(u, v, r)
	}
	low := float32(l.tall * r)
	inside = 1e9
	nx, ny, nz = float32(0.2*l.wobble[0].x), float32(0.2*l.wobble[0].y), 0.98
	for _, f := range l.faces {
		fx, fy := float32(f.n.x), float32(f.n.y)
		from := float32(f.edge*r) - float32(u*fx) - float32(v*fy)
		if from < inside {
			inside = from
		}
		if h := float32(from * f.rise); h < low {
			low = h
			z := 1 / sqrt32(1+float32(f.rise*f.rise))
			nx, ny, nz = float32(fx*f.rise*z), float32(fy*f.rise*z), z
		}
	}
	if inside < 0.7 {
		nz = sqrt32(max(0.05, 1-float32(nx*nx)-float32(ny*ny)))
	}
	return inside, nx, ny, nz
}

// rounded is surface for a round lump.
func (l *lump) rounded(u, v, r float32) (inside, nx, ny, nz float32) {
	far := sqrt32(float32(u*u)+float32(v*v)) + 1e-6
	c, s := u/far, v/far
	c2, s2 := float32(c*c)-float32(s*s), float32(2*c*s)
	c3, s3 := float32(c2*c)-float32(s2*s), float32(c2*s)+float32(s2*c)
	edge := 1 + float32(c2*float32(l.wobble[0].x)) + float32(s2*float32(l.wobble[0].y)) +
		float32(c3*float32(l.wobble[1].x)) + float32(s3*float32(l.wobble[1].y))
	edge = float32(edge * r)
	f := min(1, far/edge)
	z := sqrt32(max(0.03, 1-float32(f*f)))
	flat := 1 - l.tall
	z = z + float32(flat*(1-z))
	k := sqrt32(max(0, 1-float32(z*z)))
	return edge - far, float32(c * k), float32(s * k), z
}
