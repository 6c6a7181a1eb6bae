package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// toneCurve says how much light each 8-bit code stands for, by channel in the order blue, green, red: 1 is what the card's paper sends
// back. White balance, exposure and the camera's own curve are undone in it together, by the card's greys.
type toneCurve struct {
	light [3][256]float32

	// straight reports whether the greys were seen in their order, lightest first, so that the curve could be undone.
	straight bool
}

// inkBlack is the light of the card's printed black, paper 1: laser and inkjet black on plain paper has a density of 1.3 to 1.6 (value
// from memory).
const inkBlack = 0.035

// mostLight is the greatest light that is told apart: a mirror of the lamp is lighter, and nothing is measured in it.
const mostLight = 2.25

// nominalGreys are the lights that the card's tone strip is printed with, darkest first.
func nominalGreys() (light [6]float64) {
	for i, p := range card.ToneStrip() {
		light[5-i] = inkBlack + (1-inkBlack)*raster.ToLinear(float64(p.SRGB[0])/255)
	}
	return light
}

// readTone makes the curve of what the strip's patches look like. Between two greys the roots of light go along a straight line, which
// leaves a camera without a curve of its own as it is; roots, because that is how a camera's noise goes. Haze over all of the photo is taken away before.
func (s *Scene) readTone(paper raster.RGB) toneCurve {
	strip := card.ToneStrip()
	var seen [6]raster.RGB
	for i, p := range strip {
		seen[5-i] = raster.MiddleRGB(s.samples(p.Rect.Inset(inset)))
	}
	seen[5] = paper // the window is larger than the strip's own paper patch
	t := toneCurve{straight: true}
	for k := range 3 {
		channel := 2 - k // codes lie blue, green, red
		t.straight = t.fill(k, seen, channel) && t.straight
	}
	if !t.straight {
		t.byPaperAlone(paper)
	}
	return t
}

// fill sets one channel's table; it reports whether the greys are in order.
func (t *toneCurve) fill(k int, seen [6]raster.RGB, channel int) bool {
	nominal := nominalGreys()
	haze := hazeOver(seen, channel)
	var x, y [7]float64 // roots of light, as seen without haze and as printed; the first are 0
	for i := range seen {
		x[i+1], y[i+1] = math.Sqrt(math.Max(0, float64(seen[i][channel])-haze)), math.Sqrt(nominal[i])
		if x[i+1] < x[i]+leastGreyStep {
			return false
		}
	}
	n := 0
	for code := range t.light[k] {
		v := math.Sqrt(math.Max(0, float64(raster.LinearOf[code])-haze))
		for n < 5 && v > x[n+1] {
			n++
		}
		root := y[n] + (v-x[n])*(y[n+1]-y[n])/(x[n+1]-x[n])
		t.light[k][code] = float32(math.Min(mostLight, root*root))
	}
	return true
}

// leastHaze is how much veil over the greys is not taken for haze, paper 1: ink of the least density above, 1.3, looks like a veil of 0.016. From twice as much on
// all of it is haze. In between, a sheen on the card's black, which does not lie on the tray, may be in it: what is taken away and is not there makes roots
// too large by more than haze that is left makes them too small.
const leastHaze = 0.02

// hazeOver is the light in one channel that haze adds to the greys, which are seen darkest first; 0 where there is none.
func hazeOver(seen [6]raster.RGB, channel int) float64 {
	var greys [6]float64
	for i := range seen {
		greys[i] = float64(seen[i][channel])
	}
	veil := veilOver(greys, greys[5])
	if !(veil > leastHaze) {
		return 0
	}
	return greys[5] * min(veil, 2*(veil-leastHaze)) / (1 + veil)
}

// leastGreyStep is the least difference between two neighbouring greys, in roots of light: a code or two in the dark.
const leastGreyStep = 0.01

// byPaperAlone is what is left where the greys cannot be read: codes as sRGB has them, paper 1.
func (t *toneCurve) byPaperAlone(paper raster.RGB) {
	for k := range t.light {
		for code := range t.light[k] {
			t.light[k][code] = min(mostLight, raster.LinearOf[code]/max(paper[2-k], raster.LeastLight))
		}
	}
}

// CodeLight returns how much light each 8-bit code stands for, by channel in the order blue, green, red; paper is 1.
func (s *Scene) CodeLight() *[3][256]float32 { return &s.tone.light }
