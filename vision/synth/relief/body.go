package relief

// widths tapers a path, makes it knobbly, and draws its tip: pointed, round or swollen.
func (g *grower) widths(p *path, h *habit, base, tip float32) {
	long := p.long()
	seed := g.between(0, 500)
	point := float32(0)
	if !p.cutTip && g.chance(0.75) {
		point = base * g.scaled(3, 40)
	}
	swollen := !p.cutTip && g.chance(h.swollen)
	nodules := g.nodules(h, long)
	for i := range p.points {
		q := &p.points[i]
		r := mix(base, tip, q.along/max(long, 0.1))
		r *= 1 + float32(h.knobbly*g.soft.at(q.along*25, seed))
		rest := long - q.along
		if rest < point {
			r *= sqrt(max(0.1, rest/point))
		}
		if swollen && rest < 6*base {
			r *= 1 + float32(0.5*smooth(6*base, 2*base, rest))
		}
		for _, at := range nodules {
			if off, ball := abs(q.along-at), min(2.4*base, 0.3+base); off < ball {
				r = max(r, sqrt(float32(ball*ball)-float32(off*off)))
			}
		}
		q.radius = clamp(r, 0.03, 1.2)
	}
}

// nodules are where on a root of so many mm round swellings sit, in mm from its base.
func (g *grower) nodules(h *habit, long float32) []float32 {
	if !g.chance(h.nodules) {
		return nil
	}
	var at []float32
	for range int(long/6) + 1 {
		at = append(at, g.between(0, long))
	}
	return at
}

// dive draws where a root runs under the medium. Most come out of it and go back into it.
func (g *grower) dive(p *path, h *habit) {
	long := p.long()
	slow := max(0.6, 6*p.points[0].radius) // mm over which it goes down
	if p.order == 0 && g.chance(0.6) {
		p.buried = append(p.buried, span{-9, g.between(0, 0.4), slow})
	}
	if g.chance(0.35) {
		p.buried = append(p.buried, span{long - g.between(0, 1), long + 9, slow})
	}
	for range int(float32(h.dives*long) + g.Float32()) {
		at := g.between(0, long)
		p.buried = append(p.buried, span{at, at + g.scaled(0.3, 8), slow * g.between(0.5, 2)})
	}
}
