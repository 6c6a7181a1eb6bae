package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/tray"
)

// abundance is how much of a plug its roots are to cover.
type abundance struct {
	cover  float64 // share of the plug
	length float64 // mm on a plug 34 mm wide, at most
	widest float64 // width that the main roots reach at least, mm
}

func (s *planting) newAbundance() abundance {
	kind := num.Of(s.Dice, []num.Weighted[int]{{Weight: 8, Thing: 0}, {Weight: 18, Thing: 1}, {Weight: 32, Thing: 2}, {Weight: 22,
		Thing: 3}, {Weight: 20, Thing: 4}})
	switch kind {
	case 0:
		return abundance{}
	case 1:
		return abundance{cover: s.Ratio(0.004, 0.06), length: s.Ratio(10, 400)}
	case 2:
		return abundance{cover: s.Ratio(0.05, 0.3), length: 1500}
	case 3:
		return abundance{cover: s.Between(0.25, 0.65), length: 4500}
	}
	a := abundance{cover: s.Between(0.75, 0.998), length: 8500}
	if s.Chance(0.6) {
		a.widest = s.Ratio(0.3, 0.8)
	}
	return a
}

// on is how much has to grow on a plug. Roots strewn at random leave free a share exp(-area/plug).
func (a abundance) on(g *tray.Plug) amount {
	area := g.Area() / (canvas.PerMM * canvas.PerMM)
	return amount{area: float64(-num.Logarithm(1-a.cover) * area), length: float64(a.length * area / tray.UsualArea), count: 3000}
}
