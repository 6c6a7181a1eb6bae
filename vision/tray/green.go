package tray

import (
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A leaf's hue and chroma in CIELAB, wide enough for yellowed ones; algae and moss fall in, too.
const (
	leafHueFrom, leafHueTo = 95.0, 170.0
	leafLeastChroma        = 20.0
	leafLeastGreen         = 0.8 // green over red, in light: a quick look before the hue is worked out
	greenStepMM            = 2.0 // a tray has ten thousands of such places
)

// GreenShare returns the share of the tray that is as green as leaves are, 0 to 1: a quick look that tells where a closer one is worth it. Under
// coloured light it is 1, as hue means nothing there.
func GreenShare(s *scene.Scene, t Layout, g Grid) float64 {
	if s.Light.Coloured {
		return 1
	}
	o := overviewOf(s, t)
	n, green := 0, 0
	place := g.placing(t)
	for v := greenStepMM / 2; v < t.WidthMM; v += greenStepMM {
		for u := greenStepMM / 2; u < t.LengthMM; u += greenStepMM {
			gu, gv := place(u, v)
			c, ok := o.light(gu, gv)
			if !ok {
				continue
			}
			n++
			if c[1] < c[2] || c[1] < leafLeastGreen*c[0] {
				continue
			}
			if lab := raster.LabOf(c); lab.Chroma() > leafLeastChroma && lab.HueDeg() > leafHueFrom && lab.HueDeg() < leafHueTo {
				green++
			}
		}
	}
	return float64(green) / float64(max(1, n))
}
