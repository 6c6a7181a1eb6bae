package scene

import (
	"fmt"
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Light is what the card says about the light: its level and its colour. How it changes over the tray, the tray tells; see shade.
type Light struct {
	White raster.RGB // linear light of the white window's paper

	// ToPaper makes paper white: linear light times ToPaper is 1 on the window in every channel.
	ToPaper raster.RGB

	ClippedShare float64 // of the window's pixels that are overexposed in some channel
	LightGrey    float64 // green of the card's lightest grey over that of its paper
	Level        float64 // green of the window's paper, 0 to 1

	// Coloured tells that the light has too little of some colour for hue to mean anything, in Words.
	Coloured bool
	Words    string
}

// inset keeps samples clear of a patch's edges: 2 mm is wider than any usable photo's blur.
const inset = 2.0

func (s *Scene) readLight() Light {
	var l Light
	window := s.samples(card.WhiteWindow.Inset(inset))
	l.White = raster.MiddleRGB(window)
	l.Level = float64(l.White[1])
	l.LightGrey = float64(raster.MiddleRGB(s.samples(card.ToneStrip()[1].Rect.Inset(inset)))[1]) / math.Max(raster.LeastLight, l.Level)
	l.ClippedShare = clippedShare(window, l.LightGrey)
	for k := range l.ToPaper {
		l.ToPaper[k] = 1 / max(l.White[k], raster.LeastLight)
	}
	l.Coloured, l.Words = s.coloured(&l)
	return l
}

// samples returns the linear light of up to about a thousand pixels inside a rectangle of the card.
func (s *Scene) samples(r card.Rect) []raster.RGB {
	const across = 32
	got := make([]raster.RGB, 0, across*across)
	for j := range across {
		for i := range across {
			q := s.nominalPx(card.Pt{
				X: r.Min.X + (r.Max.X-r.Min.X)*(float64(i)+0.5)/across,
				Y: r.Min.Y + (r.Max.Y-r.Min.Y)*(float64(j)+0.5)/across,
			})
			if x, y := int(math.Round(q.X)), int(math.Round(q.Y)); x >= 0 && y >= 0 && x < s.Photo.Width && y < s.Photo.Height {
				got = append(got, s.Photo.Light(s.Photo.At(x, y)))
			}
		}
	}
	return got
}

// The card's lightest grey is printed with 0.59 of the paper's light, and usual cameras' curves make up to 0.63 of it. More is a curve that
// flattens at the top, or a top that is cut off; then pixels at one and the same code, be it 255 or less, are the cut.
const (
	mostLightGrey  = 0.63
	leastAtOneCode = 0.3 // of the window; noise spreads over more codes
)

// clippedShare returns the share of the window's pixels at the brightest code: the file's, or the window's own where the greys show that the
// picture was cut off there.
func clippedShare(window []raster.RGB, lightGrey float64) float64 {
	top := raster.RGB{1, 1, 1}
	share := shareFrom(window, top)
	if share > 0 || lightGrey <= mostLightGrey {
		return share
	}
	top = raster.RGB{}
	for _, c := range window {
		for k := range top {
			top[k] = max(top[k], c[k])
		}
	}
	if share = shareFrom(window, top); share < leastAtOneCode {
		return 0
	}
	return share
}

// shareFrom returns the share of colours that reach top in some channel.
func shareFrom(all []raster.RGB, top raster.RGB) float64 {
	n := 0
	for _, c := range all {
		if c[0] >= top[0] || c[1] >= top[1] || c[2] >= top[2] {
			n++
		}
	}
	return float64(n) / float64(max(1, len(all)))
}

// leastPatchChroma is less than the card's coloured patches keep under any white light; a black-and-white filter leaves none.
const leastPatchChroma = 10.0

// Under daylight or white lamps, after a phone's own white balance, paper's weakest channel stays above two fifths of its
// strongest even from candle light to shade. A red-blue or sodium lamp leaves less, or makes the card's green and
// yellow patches lose the order of their hues.
const weakestChannel = 0.4

func (s *Scene) coloured(l *Light) (bool, string) {
	least, most := l.White[0], l.White[0]
	for _, v := range l.White {
		least, most = min(least, v), max(most, v)
	}
	if least < weakestChannel*most {
		return true, fmt.Sprintf("white paper looks strongly coloured (CIEDE2000 %.0f from grey)", cast(l.White))
	}
	strip := card.ColourStrip()
	var hue [3]float64
	for i := range hue {
		lab := raster.LabOf(raster.MiddleRGB(s.samples(strip[i].Rect.Inset(inset))).Scaled(l.ToPaper))
		if lab.Chroma() < leastPatchChroma {
			return true, "the card’s coloured patches look grey"
		}
		hue[i] = lab.HueDeg()
	}
	// green above yellow-green above yellow: the one order that printed colours keep under any white light
	if !(hue[0] > hue[1] && hue[1] > hue[2]) {
		return true, "the card’s green and yellow patches are out of order"
	}
	return false, ""
}

// cast is how far a colour is from the grey of its lightness, by CIEDE2000.
func cast(c raster.RGB) float64 {
	lab := raster.LabOf(c)
	return lab.Difference(raster.Lab{L: lab.L})
}
