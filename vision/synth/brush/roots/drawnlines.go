package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/medium"
	"traygauge/vision/synth/brush/tray"
)

// evenLines lays straight or gently bent roots of one exact width each over the others.
func (s *planting) evenLines(b *rootBrush) []medium.Layer {
	var all []medium.Layer
	for n := s.Whole(3, 12); n > 0; n-- {
		r := s.evenLine(&s.Layout.Plugs[s.IntN(len(s.Layout.Plugs))])
		o := s.look.single(s.Dice)
		brown := make([]float32, len(r.Points))
		if s.Chance(0.15) {
			fill(brown, 1)
		}
		r.colour(s.Dice, &o, brown)
		all = append(all, medium.Layer{Depth: s.Between(0.7, 1.2), Paint: func() { b.paint(r, &o) }})
	}
	return all
}

// evenLine draws one such root within a plug.
func (s *planting) evenLine(g *tray.Plug) *root {
	width, length := s.Ratio(0.08, 1.2), s.Between(4, 32)
	const step = 2.5
	n := int(length*canvas.PerMM/step) + 1
	r := &root{Ribbon: canvas.Ribbon{Step: step, Blunt: s.Chance(0.6), Cut: s.Chance(0.6)}, width: width, bury: make([]float32, n)}
	r.Half = make([]float32, n)
	fill(r.Half, float32(width*canvas.PerMM/2))
	way := s.Direction()
	at := g.Somewhere(s.Dice, 4).Along(way, -length*canvas.PerMM/2)
	bend := 0.0
	if s.Chance(0.4) {
		bend = float64(step / canvas.PerMM * s.Between(-0.06, 0.06))
	}
	for range n {
		r.Points = append(r.Points, at)
		at = at.Along(way, step)
		way = way.Along(way.Quarter(), bend).Unit()
	}
	return r
}
