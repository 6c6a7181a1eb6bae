package relief

// strand is a thin bent tube in the height map: fibres of coir, peat moss and wood, threads of felt and cloth.
type strand struct {
	x, y, z        float32 // where it starts, mm
	alongX, alongY float32 // unit vector in which it starts
	long           float32 // mm
	half           float32 // half its width, mm
	kinks          int     // sharp bends
	sweep          float32 // largest turn per mm between the bends, in turns
	climb          float32 // mm of height by which it may rise or sink along its way
	follow         float32 // how much of the ground's height it follows
	solid          uint16
}

func (f *relief) strand(d dice, s strand) {
	pieces := s.kinks + 1
	for range pieces {
		f.bentPiece(d, &s, s.long/float32(pieces))
		turn := d.between(0.04, 0.2) * d.sign()
		s.alongX, s.alongY = turned(s.alongX, s.alongY, turn)
	}
}

// bentPiece lays one piece of even bend and moves the strand's start to its end.
func (f *relief) bentPiece(d dice, s *strand, long float32) {
	const most = 0.4 // mm of straight tube
	number := int(long/most) + 1
	part := long / float32(number)
	turn := s.sweep * part * d.between(-1, 1)
	rise := s.climb * d.between(-1, 1) / float32(number)
	for range number {
		x, y := s.x+float32(s.alongX*part), s.y+float32(s.alongY*part)
		z := s.z + rise
		if s.follow > 0 {
			z = mix(z, f.height(x, y), s.follow)
		}
		f.stick(s.x, s.y, s.z, x, y, z, s.half, s.solid)
		s.x, s.y, s.z = x, y, z
		s.alongX, s.alongY = turned(s.alongX, s.alongY, turn)
	}
}

// turned is a unit vector turned by so many turns.
func turned(x, y, by float32) (float32, float32) {
	sin, cos := sinCos(by)
	return float32(x*cos) - float32(y*sin), float32(x*sin) + float32(y*cos)
}

// stick lays a straight tube from one point to another; z are the heights of its axis.
func (f *relief) stick(ax, ay, az, bx, by, bz, half float32, solid uint16) {
	half = max(half, 0.65*step)
	dx, dy := bx-ax, by-ay
	square := max(dot(dx, dy, dx, dy), 1e-9)
	x0, x1 := max(0, int((min(ax, bx)-half)/step)), min(across, int((max(ax, bx)+half)/step)+1)
	y0, y1 := max(0, int((min(ay, by)-half)/step)), min(across, int((max(ay, by)+half)/step)+1)
	for y := y0; y < y1; y++ {
		py := middle(y) - ay
		for x := x0; x < x1; x++ {
			px := middle(x) - ax
			t := clamp(dot(px, py, dx, dy)/square, 0, 1)
			ex, ey := px-float32(t*dx), py-float32(t*dy)
			if q := float32(half*half) - dot(ex, ey, ex, ey); q > 0 {
				f.lay(y*across+x, mix(az, bz, t)+sqrt(q), solid)
			}
		}
	}
}
