package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// CardLooks is how the card's greys and colours came out over how they are printed.
type CardLooks struct {
	GreysInOrder bool       // the six greys are seen lightest first, so that the camera's curve could be undone
	Chroma       [6]float64 // of the coloured patches over what was printed, the camera's curve undone: green, yellow-green, yellow, brown, red, blue
	HueOff       [6]float64 // degrees of CIELAB hue, as seen less as printed
}

// MedianChroma returns the patches' usual chroma over what was printed.
func (l CardLooks) MedianChroma() float64 {
	return raster.Median(append([]float64(nil), l.Chroma[:]...))
}

// MedianHueOff returns by how many degrees the patches' hues are off in the middle, whichever way.
func (l CardLooks) MedianHueOff() float64 {
	var off []float64
	for _, h := range l.HueOff {
		off = append(off, math.Abs(h))
	}
	return raster.Median(off)
}

// readLooks reads the card's greys and colours.
func (s *Scene) readLooks() CardLooks {
	l := CardLooks{GreysInOrder: s.tone.straight}
	for i, p := range card.ColourStrip() {
		seen, printed := raster.LabOf(s.straightened(p.Rect.Inset(inset))), raster.LabOf(printedLight(p.SRGB))
		l.Chroma[i] = seen.Chroma() / printed.Chroma()
		l.HueOff[i] = math.Remainder(seen.HueDeg()-printed.HueDeg(), 360)
	}
	return l
}

// printedLight is the light of an sRGB code in print, paper 1.
func printedLight(code [3]uint8) (c raster.RGB) {
	for k, v := range code {
		c[k] = float32(inkBlack + (1-inkBlack)*raster.ToLinear(float64(v)/255))
	}
	return c
}

// straightened is the median light in a rectangle of the card, paper 1, with the camera's curve undone.
func (s *Scene) straightened(r card.Rect) raster.RGB {
	c := raster.MiddleRGB(s.samples(r))
	for k := range c {
		code := int(math.Round(255 * raster.FromLinear(float64(c[k]))))
		c[k] = s.tone.light[2-k][min(255, max(0, code))]
	}
	return c
}
