package solids

import "traygauge/vision/synth/relief/num"

// Strand is a thin bent tube in the height map: fibres of coir, peat moss and wood, threads of felt and cloth.
type Strand struct {
	X, Y, Z        float32 // where it starts, mm
	AlongX, AlongY float32 // unit vector in which it starts
	Long           float32 // mm
	Half           float32 // half its width, mm
	Kinks          int     // sharp bends
	Sweep          float32 // largest turn per mm between the bends, in turns
	Climb          float32 // mm of height by which it may rise or sink along its way
	follow         float32 // how much of the ground's height it follows
	Solid          uint16
}

// Strand lays a strand, piece by piece.
func (f *Relief) Strand(d num.Dice, s Strand) {
	pieces := s.Kinks + 1
	for range pieces {
		f.bentPiece(d, &s, s.Long/float32(pieces))
		turn := d.Between(0.04, 0.2) * d.Sign()
		s.AlongX, s.AlongY = num.Turned(s.AlongX, s.AlongY, turn)
	}
}

// bentPiece lays one piece of even bend and moves the strand's start to its end.
func (f *Relief) bentPiece(d num.Dice, s *Strand, long float32) {
	const most = 0.4 // mm of straight tube
	number := int(long/most) + 1
	part := long / float32(number)
	turn := s.Sweep * part * d.Between(-1, 1)
	rise := s.Climb * d.Between(-1, 1) / float32(number)
	for range number {
		x, y := s.X+float32(s.AlongX*part), s.Y+float32(s.AlongY*part)
		z := s.Z + rise
		if s.follow > 0 {
			z = num.Mix(z, f.Height(x, y), s.follow)
		}
		f.Stick(s.X, s.Y, s.Z, x, y, z, s.Half, s.Solid)
		s.X, s.Y, s.Z = x, y, z
		s.AlongX, s.AlongY = num.Turned(s.AlongX, s.AlongY, turn)
	}
}

// Stick lays a straight tube from one point to another; z are the heights of its axis.
func (f *Relief) Stick(ax, ay, az, bx, by, bz, half float32, solid uint16) {
	half = max(half, 0.65*Step)
	dx, dy := bx-ax, by-ay
	square := max(num.Dot(dx, dy, dx, dy), 1e-9)
	x0, x1 := max(0, int((min(ax, bx)-half)/Step)), min(Across, int((max(ax, bx)+half)/Step)+1)
	y0, y1 := max(0, int((min(ay, by)-half)/Step)), min(Across, int((max(ay, by)+half)/Step)+1)
	for y := y0; y < y1; y++ {
		py := Middle(y) - ay
		for x := x0; x < x1; x++ {
			px := Middle(x) - ax
			t := num.Clamp(num.Dot(px, py, dx, dy)/square, 0, 1)
			ex, ey := px-float32(t*dx), py-float32(t*dy)
			if q := float32(half*half) - num.Dot(ex, ey, ex, ey); q > 0 {
				f.Lay(y*Across+x, num.Mix(az, bz, t)+num.Sqrt(q), solid)
			}
		}
	}
}
