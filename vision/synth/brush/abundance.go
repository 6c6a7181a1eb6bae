package brush

// abundance is how much of a plug its roots are to cover.
type abundance struct {
	cover  float64 // share of the plug
	length float64 // mm on a plug 34 mm wide, at most
	widest float64 // width that the main roots reach at least, mm
}

func (s *scene) newAbundance() abundance {
	kind := of(s.dice, []weighted[int]{{8, 0}, {18, 1}, {32, 2}, {22, 3}, {20, 4}})
	switch kind {
	case 0:
		return abundance{}
	case 1:
		return abundance{cover: s.ratio(0.004, 0.06), length: s.ratio(10, 400)}
	case 2:
		return abundance{cover: s.ratio(0.05, 0.3), length: 1500}
	case 3:
		return abundance{cover: s.between(0.25, 0.65), length: 4500}
	}
	a := abundance{cover: s.between(0.75, 0.998), length: 8500}
	if s.chance(0.6) {
		a.widest = s.ratio(0.3, 0.8)
	}
	return a
}

// on is how much has to grow on a plug. Roots strewn at random leave free a share exp(-area/plug).
func (a abundance) on(g *plug) amount {
	area := g.area() / (perMM * perMM)
	return amount{area: float64(-logarithm(1-a.cover) * area), length: float64(a.length * area / 908), count: 3000}
}
