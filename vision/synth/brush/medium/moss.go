package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// moss lays green patches on the medium: a film of algae or small tufts.
func (s *Setting) moss() {
	amount := s.Between32(0.02, 0.6)
	green := num.Tint(s.Ratio(0.03, 0.16), s.Between(0.35, 0.95), s.Between(0.1, 0.4))
	tufts := s.Chance(0.5)
	strewn := texture.NewCells(s.Dice, s.Ratio(2.5, 8), 1.5)
	shift := s.IntN(canvas.Side)
	edge := num.Blend32(1.3, -0.45, amount)
	for i, in := range s.Ground.Inside {
		if in < -0.7 {
			continue
		}
		x, y := i%canvas.Side, i/canvas.Side
		f := float32(0.8*s.Broad.Nearest(x+shift, y)) + float32(0.45*s.Mid.Nearest(x, y+shift)) + float32(0.2*s.Grain[i])
		share := num.Ease(edge-0.25, edge+0.35, f)
		if share <= 0 {
			continue
		}
		colour := num.Times(green, 0.9+float32(0.25*s.Mid[i])+float32(0.2*s.Grain[i]))
		if tufts {
			near, next, p := strewn.Near(float32(x)+s.WarpX[i], float32(y)+s.WarpY[i])
			colour = num.Times(green, float32((0.35+float32(0.9*p.Tone))*(1.1-near))*(0.5+float32(0.5*num.Ease(0, 0.3, next-near)))*1.6)
			share = num.Ease(0.3, 0.5, float32(share*(0.5+p.Hue)))
		} else {
			colour = num.Mix(num.By(colour, num.Times(s.Light[i], 4)), colour, 0.5)
			share = float32(share * 0.8)
		}
		s.Lay(i, float32(share*canvas.RimShare(s.Ground.Inside, i)), colour)
	}
}

// Salt lays a pale crust on parts of the medium.
func (s *Setting) Salt() {
	edge, shift := s.Between32(0.5, 1.4), s.IntN(canvas.Side)
	pale := num.Tint(s.Between(0.4, 0.8), 1.03, 0.93)
	for i, in := range s.Ground.Inside {
		if in < -0.7 {
			continue
		}
		f := float32(0.8*s.Broad.Nearest(i%canvas.Side,
			i/canvas.Side+shift)) + float32(0.5*s.Mid[i]) + float32(0.5*s.Grain.Nearest(i%canvas.Side+shift, i/canvas.Side))
		share := float32(0.6 * num.Ease(edge, edge+0.8, f) * num.Ease(0.2, 0.6, s.Ground.relief[i]))
		s.Lay(i, float32(share*canvas.RimShare(s.Ground.Inside, i)), pale)
	}
}

// Web lays a thin web like mycelium over parts of the medium: fine pale threads that cover little.
func (s *Setting) Web() {
	threads := texture.NewField()
	threads.Octaves(s.Dice, s.Whole(60, 110), 2, 0.8, 0.8)
	threads.Ridged()
	edge, shift, pale := s.Between32(0.2, 1.1), s.IntN(canvas.Side), s.Between32(0.4, 0.8)
	dense := s.Between32(0.1, 0.35)
	for i, in := range s.Ground.Inside {
		if in < 0 {
			continue
		}
		f := float32(0.8*s.Broad.Nearest(i%canvas.Side+shift, i/canvas.Side)) + float32(0.5*s.Mid.Nearest(i%canvas.Side, i/canvas.Side+shift))
		thread := threads.At(float32(i%canvas.Side)+float32(3*s.WarpX[i]), float32(i/canvas.Side)+float32(3*s.WarpY[i]))
		share := float32(dense * num.Ease(edge, edge+0.6, f) * num.Ease(0.5, 0.95, thread))
		s.Lay(i, share, num.RGB{pale, pale, float32(pale * 0.96)})
	}
}
