package roots

import "traygauge/vision/synth/relief/num"

// widths tapers a path, makes it knobbly, and draws its tip: pointed, round or swollen.
func (g *Grower) widths(p *Path, h *habit, base, tip float32) {
	long := p.Long()
	seed := g.Between(0, 500)
	point := float32(0)
	if !p.cutTip && g.Chance(0.75) {
		point = base * g.Scaled(3, 40)
	}
	swollen := !p.cutTip && g.Chance(h.swollen)
	nodules := g.nodules(h, long)
	for i := range p.Points {
		q := &p.Points[i]
		r := num.Mix(base, tip, q.Along/max(long, 0.1))
		r *= 1 + float32(h.knobbly*g.Soft.At(q.Along*25, seed))
		rest := long - q.Along
		if rest < point {
			r *= num.Sqrt(max(0.1, rest/point))
		}
		if swollen && rest < 6*base {
			r *= 1 + float32(0.5*num.Smooth(6*base, 2*base, rest))
		}
		for _, at := range nodules {
			if off, ball := num.Abs(q.Along-at), min(2.4*base, 0.3+base); off < ball {
				r = max(r, num.Sqrt(float32(ball*ball)-float32(off*off)))
			}
		}
		q.Radius = num.Clamp(r, 0.03, 1.2)
	}
}

// nodules are where on a root of so many mm round swellings sit, in mm from its base.
func (g *Grower) nodules(h *habit, long float32) []float32 {
	if !g.Chance(h.nodules) {
		return nil
	}
	var at []float32
	for range int(long/6) + 1 {
		at = append(at, g.Between(0, long))
	}
	return at
}

// dive draws where a root runs under the medium. Most come out of it and go back into it.
func (g *Grower) dive(p *Path, h *habit) {
	long := p.Long()
	slow := max(0.6, 6*p.Points[0].Radius) // mm over which it goes down
	if p.order == 0 && g.Chance(0.6) {
		p.buried = append(p.buried, span{-9, g.Between(0, 0.4), slow})
	}
	if g.Chance(0.35) {
		p.buried = append(p.buried, span{long - g.Between(0, 1), long + 9, slow})
	}
	for range int(float32(h.dives*long) + g.Float32()) {
		at := g.Between(0, long)
		p.buried = append(p.buried, span{at, at + g.Scaled(0.3, 8), slow * g.Between(0.5, 2)})
	}
}
