package checks

import (
	"fmt"
	"math"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// What a photo must show follows from the thinnest thing that it is taken for. A line of width w under a blur of standard
// deviation b keeps w/(b·√2π) of its contrast. Below a third of it drawn roots come out more than a tenth too large, since
// how wide they are can no longer be separated from how light they are; below two fifths they are counted with a wider error bar.
const (
	thinnestRootMM  = 0.2 // a young root; the accuracy goals ask for lines as thin as this
	thinnestStalkMM = 0.5
	leastContrast   = 0.32
	fairContrast    = 0.40

	mostTiltDeg    = 25.0 // up to here a tilt is allowed for
	leastPxPerMM   = 3.0  // below it a thinnest root takes half a pixel
	worstPxPerMM   = 2.0  // drawn roots come out a tenth short there, and a fifth to a half below it
	leastLeafPxMM  = 1.5  // drawn leaves come out 2 to 8 % too large below it
	leastQuality   = 70   // of a JPEG: brown roots come out 8 % short at 60, 17 % at 30
	mostClipped    = 0.05 // of the white window
	leastLevel     = 0.08 // of the brightest code's light: paper darker than this leaves medium no codes
	fairResidualMM = 0.35

	// Noise of paper's light on the middle grey. The noisiest drawn photos have 0.012. In a photo by another program a twelfth of few and brown roots was missed at
	// 0.04 and a sixth at 0.07, of leaves half of that (measured once; no command prints it).
	mostNoise, mostLeafNoise = 0.03, 0.06
)

// Judge says what is wrong with the photo itself.
func Judge(s *vision.Scene, pxPerMM float64) []reading.Concern {
	var all []reading.Concern
	add := func(fatal bool, kind reading.Kind, remedy, words string, args ...any) {
		all = append(all, reading.Concern{Kind: kind, Words: fmt.Sprintf(words, args...), Remedy: remedy, Fatal: fatal})
	}
	if s.Photo.Grey() {
		add(true, reading.NoColours, "turn off the camera’s black-and-white filter", "the photo is black and white, but roots and leaves can only be measured in colour")
	}
	thinnest := thinnestRootMM
	if s.Face == card.Shoots {
		thinnest = thinnestStalkMM
	}
	switch contrast := residualContrast(s.Edge, thinnest); {
	case math.IsNaN(contrast):
		add(false, reading.SharpnessUnknown, "keep the card’s black square free of glare and dirt", "the card’s black square could not be read")
	case contrast < leastContrast:
		add(true, reading.Blurred, "hold the phone still, tap on the card to focus and take the photo again",
			"the photo is blurred: details of %g mm keep only %.0f %% of their contrast (minimum %.0f %%)", thinnest, 100*contrast, 100*leastContrast)
	case contrast < fairContrast:
		add(false, reading.ALittleBlurred, "tap on the card to focus; the photo is usable, with wider error bars",
			"the photo is a little blurred: details of %g mm keep %.0f %% of their contrast", thinnest, 100*contrast)
	}
	if s.Plane.TiltDeg > mostTiltDeg {
		add(false, reading.Tilted, "hold the phone level above the middle of the tray", "the camera was tilted by %.0f° (limit %.0f°)", s.Plane.TiltDeg, mostTiltDeg)
	}
	const nearer = "move closer until the tray fills the photo, and copy the photo in full resolution"
	switch {
	case s.Face == card.Roots && pxPerMM < worstPxPerMM:
		add(true, reading.TooFarAway, nearer+"; take it again", "the photo has only %.1f pixels per mm; thin roots need at least %.0f", pxPerMM, leastPxPerMM)
	case s.Face == card.Roots && pxPerMM < leastPxPerMM:
		add(false, reading.TooFarAway, nearer, "the photo has only %.1f pixels per mm; thin roots need at least %.0f", pxPerMM, leastPxPerMM)
	case s.Face == card.Shoots && pxPerMM < leastLeafPxMM:
		add(false, reading.TooFarAway, nearer, "the photo has only %.1f pixels per mm; leaves need at least %.1f", pxPerMM, leastLeafPxMM)
	}
	const compressed = "copy the original photo from the phone by cable or as a file, because messengers compress photos"
	if q := s.Photo.Quality; q > 0 && q < leastQuality {
		add(false, reading.Compressed, compressed, "the photo was compressed to a JPEG quality of about %d (minimum %d)", q, leastQuality)
	} else if q := s.Photo.SavedBefore(); q > 0 {
		add(false, reading.Compressed, compressed, "the photo was once compressed to a JPEG quality of about %d (minimum %d) and then saved again", q, leastQuality)
	}
	if s.Light.ClippedShare > mostClipped {
		add(false, reading.TooBright, "tap on the card to set the exposure, or move the lamp farther away", "%.0f %% of the card’s white window is overexposed (limit %.0f %%)", 100*s.Light.ClippedShare, 100*mostClipped)
	}
	if s.Light.Level < leastLevel {
		add(false, reading.TooDark, "use more light", "the photo is too dark: the card’s paper has only %.0f %% of full brightness (minimum %.0f %%)", 100*s.Light.Level, 100*leastLevel)
	}
	noise := mostNoise
	if s.Face == card.Shoots {
		noise = mostLeafNoise
	}
	if s.OnCard.Noise > noise {
		all = append(all, reading.Concern{Kind: reading.Noisy, Words: fmt.Sprintf("the photo is noisy: pixels on the card’s middle grey vary by %.0f %% of white (limit %.0f %%)", 100*s.OnCard.Noise, 100*noise),
			Remedy: "use more light, so that the phone does not have to brighten the photo, and do not zoom", Bias: tooSmall})
	}
	if s.Plane.ResidualMM > fairResidualMM {
		add(false, reading.CardNotFlat, "glue the card to something stiff, and lay it flat", "the card is not flat: its corners are off by %.2f mm (limit %.2f mm)", s.Plane.ResidualMM, fairResidualMM)
	}
	return all
}

// residualContrast is the contrast that a line of width w mm keeps on the card, in the direction in which the photo is blurred more.
func residualContrast(e vision.Sharpness, w float64) float64 { return contrastLeft(e.WorstBlurMM(), w) }

// contrastLeft is w/(b·√2π), the contrast that a line of width w keeps under a blur of standard deviation b.
func contrastLeft(b, w float64) float64 { return math.Min(1, w/(b*math.Sqrt(2*math.Pi))) }
