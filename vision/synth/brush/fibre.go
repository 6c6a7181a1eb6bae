package brush

// fibre is a strand of coir, straw or wood: it breaks and kinks where a root would bend, and keeps its width where a root tapers.
type fibre struct {
	ribbon
	colour rgb
	sunk   []float32
	flat   float32
	shadow float32
	tone   [2]int
}

// newFibre draws a strand that starts at a place; width in mm.
func newFibre(d dice, from vec, length, width float64, colour rgb) *fibre {
	step := max(1.6, float64(0.6*width*perMM))
	f := &fibre{ribbon: ribbon{step: step, points: []vec{from}, blunt: true, cut: true}, colour: colour,
		flat: d.between32(0, 0.9), shadow: d.between32(0.1, 0.6), tone: [2]int{d.IntN(side), d.IntN(side)}}
	way := d.direction()
	kink, sway, curl := d.ratio(0.08, 0.6), float64(d.between(0, 0.05)), 0.0
	if d.chance(0.4) { // coir curls where straw breaks
		kink, curl = 0.3*kink, float64(d.between(-0.8, 0.8)*step/perMM)
	}
	left := d.ratio(0.5, 3)
	half := float32(width * perMM / 2)
	sunk, level := d.between32(0, 0.8), d.between32(0, 0.5)
	f.half, f.sunk = append(f.half, half), append(f.sunk, sunk)
	for n := int(length*perMM/step) + 1; n > 0; n-- {
		left -= step / perMM
		turn := float64(sway*d.normal()) + curl
		if left < 0 {
			turn, left = float64(kink*d.normal()), d.ratio(0.5, 4)
			curl *= d.between(-0.6, 1.4)
			sunk = level + d.between32(-0.2, 0.5)
		}
		way = way.turned(max(-1.2, min(1.2, turn)))
		from = from.along(way, step)
		f.points = append(f.points, from)
		f.half = append(f.half, float32(half*d.between32(0.85, 1.1)))
		f.sunk = append(f.sunk, sunk)
	}
	return f
}

// paint lays the strand and its shadow.
func (f *fibre) paint(s *scene) {
	s.castRibbon(&f.ribbon, &shadow{f.shadow, 0.8, f.sunk, nil}, &s.lamp)
	s.trace(&f.ribbon, func(i int, t *touch) {
		k := min(int(t.along/float32(f.step)), len(f.sunk)-1)
		share := t.share()
		if f.sunk[k] > 0.15 {
			share = float32(share * ease(-0.1, 0.1, 1.1-float32(1.2*f.sunk[k])-s.ground.cover[i]))
		}
		share = float32(share * within01(s.ground.inside[i]+4))
		if share <= 0 {
			return
		}
		u := float32(min(1, max(-1, t.off/t.half)) * (1 - f.flat))
		nx, ny := float32(t.nx*u), float32(t.ny*u)
		shade := s.lamp.on(nx, ny, sqrt32(max(0.05, 1-float32(u*u))))
		grain := s.grain.at(float32(0.2*t.along)+float32(f.tone[0]), float32(0.9*t.off)+float32(f.tone[1]))
		s.lay(i, share, times(f.colour, float32(shade*max(0.3, 0.9+float32(0.25*grain)))))
	})
}
