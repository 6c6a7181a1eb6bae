package brush

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// paintLight lays the lamp's unevenness and shadows from outside over the finished drawing. Light changes no labels.
func (s *scene) paintLight() {
	if !s.Layout.Loose {
		s.rimShadow(float32(s.Ratio(1, 40)), s.Between32(0.3, 0.9))
	}
	slope := s.Direction().Times(s.Between(0, 0.26) / canvas.Side)
	for i := range s.Light {
		at := num.At(float64(i%canvas.Side)-canvas.Side/2, float64(i/canvas.Side)-canvas.Side/2)
		s.Light[i] = num.Times(s.Light[i], float32(1+at.Dot(slope)))
	}
	if s.Chance(0.15) {
		s.castFrom(s.Between32(0.2, 0.7), float32(s.Ratio(1, 60)))
	}
}

// rimShadow darkens plugs that lie so many texels below the tray's rim.
func (s *scene) rimShadow(sunk, depth float32) {
	toward := s.Lamp.ShadowOf(-sunk)
	ox, oy := int(max(-canvas.Side, min(canvas.Side, toward.X))), int(max(-canvas.Side, min(canvas.Side, toward.Y)))
	spread := 1.5 + float32(s.Lamp.Soft*sunk*0.6)
	depth = float32(depth * s.Lamp.Direct)
	close := float32(0.35 * depth)
	for i, in := range s.edge {
		if in < 0 {
			continue
		}
		x, y := min(canvas.Side-1, max(0, i%canvas.Side+ox)), min(canvas.Side-1, max(0, i/canvas.Side+oy))
		dark := float32(depth * (1 - num.Ease(-spread, spread, s.edge[y*canvas.Side+x])))
		dark = max(dark, float32(close*(1-num.Ease(0, 4+sunk, in))))
		s.Darken(i, 1-dark)
	}
}

// castFrom darkens a part of the drawing by a shadow whose edge is soft over spread texels: a straight edge, a bar or a round thing.
func (s *scene) castFrom(depth, spread float32) {
	at := num.At(canvas.Side/2, canvas.Side/2).Along(s.Direction(), s.Between(0, 180))
	way := s.Direction()
	half := s.Ratio(20, 160)
	kind := s.IntN(3)
	cool := num.Mix(num.RGB{1, 1, 1}, num.RGB{0.96, 1, 1.06}, s.Between32(0, 1)) // the sky's light in the shade
	for i := range s.Light {
		d := num.At(float64(i%canvas.Side), float64(i/canvas.Side)).Minus(at)
		var in float64
		switch kind {
		case 0:
			in = d.Dot(way)
		case 1:
			in = half - math.Abs(d.Dot(way))
		case 2:
			in = half - d.Length()
		}
		dark := float32(depth * num.Ease(-spread, spread, float32(in)+float32(4*s.Broad[i])))
		s.Light[i] = num.Mix(s.Light[i], num.By(num.Times(s.Light[i], 1-depth), cool), dark/depth)
	}
}
