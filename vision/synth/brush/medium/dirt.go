package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// Dirty strews soil crumbs and scratches over the tray or table.
func (s *Setting) Dirty() {
	for n := int(s.Ratio(1, 150)) - 1; n > 0; n-- {
		l := newLump(s.Dice, num.At(s.Between(0, canvas.Side), s.Between(0, canvas.Side)), float64(s.Ratio(0.08, 0.9)/2*canvas.PerMM), s.Chance(0.7))
		l.colour = num.Mix(s.Recipe.Dark, s.Recipe.Pale, s.Between32(0.2, 1.2))
		l.grain = 0.3
		l.paint(s)
	}
	if s.Chance(0.3) {
		bright := s.Between32(0.02, 0.2)
		for n := s.Whole(1, 12); n > 0; n-- {
			s.scratch(bright)
		}
	}
}

// scratch lays one fine scratch.
func (s *Setting) scratch(bright float32) {
	const step = 4
	at, way, half := num.At(s.Between(0, canvas.Side), s.Between(0, canvas.Side)), s.Direction(), s.Between32(0.2, 0.7)
	b := canvas.Ribbon{Step: step}
	for n := s.Whole(5, 50); n > 0; n-- {
		b.Points = append(b.Points, at)
		b.Half = append(b.Half, half)
		at = at.Along(way, step)
		way = way.Turned(float64(0.02 * s.Normal()))
	}
	s.Trace(&b, func(i int, t *canvas.Touch) {
		s.Light[i] = num.Sum(s.Light[i], num.Times(num.RGB{bright, bright, bright}, t.Share()))
	})
}
