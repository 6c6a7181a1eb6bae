package brush

// abundance is how much of a plug its roots are to cover.
type abundance struct {
	cover  float64 // share of the plug
	length float64 // mm on a plug 34 mm wide, at most
}

func (s *scene) newAbundance() abundance {
	kind := of(s.dice, []weighted[int]{{8, 0}, {20, 1}, {34, 2}, {22, 3}, {17, 4}})
	switch kind {
	case 0:
		return abundance{}
	case 1:
		return abundance{s.ratio(0.004, 0.06), s.ratio(10, 400)}
	case 2:
		return abundance{s.ratio(0.05, 0.3), 1500}
	case 3:
		return abundance{s.between(0.25, 0.65), 4500}
	}
	return abundance{s.between(0.7, 0.995), 8500}
}

// on is how much has to grow on a plug. Roots strewn at random leave free a share exp(-area/plug).
func (a abundance) on(g *plug) amount {
	area := g.area() / (perMM * perMM)
	return amount{area: float64(-logarithm(1-a.cover) * area), length: float64(a.length * area / 908), count: 3000}
}
