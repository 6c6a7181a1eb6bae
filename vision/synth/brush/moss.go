package brush

// moss lays green patches on the medium: a film of algae or small tufts.
func (s *scene) moss() {
	amount := s.between32(0.02, 0.6)
	green := tint(s.ratio(0.03, 0.16), s.between(0.35, 0.95), s.between(0.1, 0.4))
	tufts := s.chance(0.5)
	strewn := newCells(s.dice, s.ratio(2.5, 8), 1.5)
	shift := s.IntN(side)
	edge := blend32(1.3, -0.45, amount)
	for i, in := range s.ground.inside {
		if in < -0.7 {
			continue
		}
		x, y := i%side, i/side
		f := float32(0.8*s.broad.nearest(x+shift, y)) + float32(0.45*s.mid.nearest(x, y+shift)) + float32(0.2*s.grain[i])
		share := ease(edge-0.25, edge+0.35, f)
		if share <= 0 {
			continue
		}
		colour := times(green, 0.9+float32(0.25*s.mid[i])+float32(0.2*s.grain[i]))
		if tufts {
			near, next, p := strewn.near(float32(x)+s.warpX[i], float32(y)+s.warpY[i])
			colour = times(green, float32((0.35+float32(0.9*p.tone))*(1.1-near))*(0.5+float32(0.5*ease(0, 0.3, next-near)))*1.6)
			share = ease(0.3, 0.5, float32(share*(0.5+p.hue)))
		} else {
			colour = mix(by(colour, times(s.Light[i], 4)), colour, 0.5)
			share = float32(share * 0.8)
		}
		s.lay(i, float32(share*rimShare(s.ground.inside, i)), colour)
	}
}

// salt lays a pale crust on parts of the medium.
func (s *scene) salt() {
	edge, shift := s.between32(0.5, 1.4), s.IntN(side)
	pale := tint(s.between(0.4, 0.8), 1.03, 0.93)
	for i, in := range s.ground.inside {
		if in < -0.7 {
			continue
		}
		f := float32(0.8*s.broad.nearest(i%side, i/side+shift)) + float32(0.5*s.mid[i]) + float32(0.5*s.grain.nearest(i%side+shift, i/side))
		share := float32(0.6 * ease(edge, edge+0.8, f) * ease(0.2, 0.6, s.ground.relief[i]))
		s.lay(i, float32(share*rimShare(s.ground.inside, i)), pale)
	}
}

// web lays a thin web like mycelium over parts of the medium: fine pale threads that cover little.
func (s *scene) web() {
	threads := newField()
	threads.octaves(s.dice, s.whole(60, 110), 2, 0.8, 0.8)
	threads.ridged()
	edge, shift, pale := s.between32(0.2, 1.1), s.IntN(side), s.between32(0.4, 0.8)
	dense := s.between32(0.1, 0.35)
	for i, in := range s.ground.inside {
		if in < 0 {
			continue
		}
		f := float32(0.8*s.broad.nearest(i%side+shift, i/side)) + float32(0.5*s.mid.nearest(i%side, i/side+shift))
		thread := threads.at(float32(i%side)+float32(3*s.warpX[i]), float32(i/side)+float32(3*s.warpY[i]))
		share := float32(dense * ease(edge, edge+0.6, f) * ease(0.5, 0.95, thread))
		s.lay(i, share, rgb{pale, pale, float32(pale * 0.96)})
	}
}
