package scene

import (
	"math"
	"slices"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// OnCard is what the card shows of the light that falls on itself: its paper is one white, its ink one black.
type OnCard struct {
	Paper float64 // light of the lightest paper about the greys and in the window over that of the darkest
	Glare float64 // light of the strip's black less that of the black square, each over the paper beside it
	Noise float64 // from pixel to pixel on its middle grey, as a standard deviation over paper's light
	Veil  float64 // even light over all greys, paper 1: seen is (printed + Veil) / (1 + Veil); 0 where the greys are not like that
	Black Blacks

	Speckle float64 // by how much of paper's light the colour of its greys scatters from spot to spot
}

// Bare paper beside what tone and light are read from: the strip's own, under its left and its right half, and the window.
var (
	underLightGreys = card.Rect{Min: card.Pt{X: 36, Y: 28.5}, Max: card.Pt{X: 72, Y: 33.5}}
	underDarkGreys  = card.Rect{Min: card.Pt{X: 78, Y: 28.5}, Max: card.Pt{X: 114, Y: 33.5}}
	barePaper       = []card.Rect{card.ToneStrip()[0].Rect.Inset(inset), underLightGreys, underDarkGreys, card.WhiteWindow.Inset(inset)}
)

// squareInside is a part of the black square that holds none of its slanted edges.
var squareInside = card.Rect{Min: card.Pt{X: 33, Y: 43}, Max: card.Pt{X: 47, Y: 57}}

// readOnCard reads the light on the card by green, of which a photo has the most.
func (s *Scene) readOnCard() OnCard {
	lightOf := func(r card.Rect) float64 {
		return math.Max(raster.LeastLight, float64(raster.MiddleRGB(s.samples(r))[1]))
	}
	var paper []float64
	for _, r := range barePaper {
		paper = append(paper, lightOf(r))
	}
	window := lightOf(card.WhiteWindow.Inset(inset))
	var greys [6]float64 // darkest first
	for i, p := range card.ToneStrip() {
		greys[5-i] = lightOf(p.Rect.Inset(inset))
	}
	return OnCard{
		Paper: slices.Max(paper) / slices.Min(paper),
		Glare: greys[0]/lightOf(underDarkGreys) - lightOf(squareInside)/window,
		Noise: s.noise(card.ToneStrip()[2].Rect.Inset(inset)) / window,
		Veil:  veilOver(greys, window),
		Black: s.readBlacks(),

		Speckle: s.colourSpeckle(),
	}
}

// noise is how much green light scatters from pixel to pixel in a rectangle of the card; differences between neighbours scatter by √2 of that.
func (s *Scene) noise(r card.Rect) float64 {
	const across = 32
	var steps []float64
	for j := range across {
		for i := range across {
			q := s.nominalPx(card.Pt{X: r.Min.X + (r.Max.X-r.Min.X)*(float64(i)+0.5)/across, Y: r.Min.Y + (r.Max.Y-r.Min.Y)*(float64(j)+0.5)/across})
			if x, y := int(q.X), int(q.Y); x >= 0 && y >= 0 && x+1 < s.Photo.Width && y < s.Photo.Height {
				steps = append(steps, math.Abs(float64(s.Photo.Light(s.Photo.At(x+1, y))[1]-s.Photo.Light(s.Photo.At(x, y))[1])))
			}
		}
	}
	if len(steps) == 0 {
		return 0
	}
	return raster.PerMedianOff / math.Sqrt2 * raster.Median(steps)
}

// mostGreyOff is how far greys under nothing but a veil may be off, over what is printed: a camera's curve that lifts the dark lifts the middle by more.
const mostGreyOff = 0.12

// veilOver is the veil that makes black of its printed light, where the other greys agree to it.
func veilOver(greys [6]float64, paper float64) float64 {
	nominal := nominalGreys()
	black := greys[0] / paper
	veil := (black - nominal[0]) / (1 - black)
	if !(veil > 0) {
		return 0
	}
	for i := range 5 {
		if want := (nominal[i] + veil) / (1 + veil); math.Abs(greys[i]/paper/want-1) > mostGreyOff {
			return 0
		}
	}
	return veil
}
