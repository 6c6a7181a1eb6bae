package weave

import "math"

// layFibres lays fibres, hairs and felts of the medium, which are no roots: short, flat, kinked, tapering both ways, frayed.
func (s *scene) layFibres(p float64) {
	for s.chance(p) {
		p /= 2
		thick := s.log(0.03, 0.7)
		k := fibres{width: thick, length: min(14, thick*s.log(8, 60)), bend: s.log(0.02, 2), kink: s.maybe(0.4, 0, 0.5), clear: s.in32(0, 0.6),
			flat: s.in32(-0.5, 0.5), taper: s.chance(0.7), frayed: s.chance(0.2)}
		switch s.pick(0.55, 0.25, 0.2) {
		case 0:
			k.own = varied(s.dice, mix(s.soil, s.stuff(), s.in32(0, 1)), 0.5)
		case 1: // of a root's colour
			k.own, k.length = s.look.white, min(k.length, 5)
		case 2: // of a brown root's
			k.own, k.length = s.look.brown, min(k.length, 5)
		}
		n := int(s.log(2, 400))
		if s.chance(0.2) { // a felt
			k.width, k.clear, n = s.log(0.025, 0.06), s.in32(0.3, 0.85), int(s.log(300, 5000))
		}
		most := s.in(0.02, 0.5) * 4 * s.half * s.half
		for ; n > 0 && most > 0; n-- {
			most -= s.layFibre(&k)
		}
	}
}

// fibres is one kind of them.
type fibres struct {
	width, length float64
	bend, kink    float64 // radians a mm; kinks a mm
	own           rgb
	clear, flat   float32
	taper, frayed bool
}

// layFibre lays one and returns its area.
func (s *scene) layFibre(k *fibres) float64 {
	x, y := s.somewhere()
	if s.depth[texelAt(x, y)] < 0.2 {
		return 0
	}
	long, r := k.length*s.log(0.4, 1.6), k.width*s.log(0.6, 1.6)/2
	n := max(4, int(long/max(0.1, 0.7*r)))
	step := long / float64(n)
	way, bend := s.in(0, 2*math.Pi), k.bend*s.NormFloat64()
	own := varied(s.dice, k.own, 0.2)
	b := ribbon{cutA: true, cutB: true}
	for i := range n + 1 {
		t, half := float64(i)/float64(n), r
		if k.taper {
			half *= 0.15 + 0.85*math.Sin(math.Pi*t)
		}
		if k.frayed {
			half *= s.in(0.5, 1.2)
		}
		b.knots = append(b.knots, knot{x: x, y: y, r: half})
		if s.chance(k.kink * step) {
			way += s.in(-1.5, 1.5)
		}
		way += bend * step
		x, y = x+step*math.Cos(way), y+step*math.Sin(way)
	}
	hide := s.in32(-1, 4)
	s.trace(&b, func(i, _ int, _, u float32) {
		at := i/fine/sub*side + i%fine/sub
		if s.depth[at] < 0 || s.height[at] > hide {
			return
		}
		c := times(own, 1+k.flat*u+0.08*s.grain[at])
		s.fine.light[i] = mix(c, s.fine.light[i], k.clear)
		if k.clear < 0.5 {
			s.fine.owner[i] = 0
		}
	})
	return long * 2 * r
}
