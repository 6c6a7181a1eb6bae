package checks

import (
	"fmt"
	"math"

	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/vision/card"
)

// The card's colours must come out about as they were printed. Inks differ from printer to printer, by up to a fifth in chroma and by ten
// degrees and more in single hues (value from memory), so that it is the middle of the six patches that counts. On drawn photos figures
// stay within 3 % from 0.7 to 1.6 times the printed chroma; colours of the widest profile that was lost take 4 % off roots and a third off
// yellow, with hues off by 10° in the middle.
const (
	mostChroma  = 1.45
	leastChroma = 0.6
	mostHueOff  = 9.0 // degrees, median of the patches
)

// One card keeps its colours: from photo to photo of one trial its green stays within 2°. A profile that was lost makes it 7° and more.
const (
	mostGreenChange  = 5.0 // degrees from the trial's other photos
	mostChromaChange = 0.25
	fewestCards      = 4 // photos that tell what is usual
)

// cardGreys doubts a photo whose greys do not come out one lighter than the next: then the camera's curve cannot be undone.
func cardGreys(e Photo) *reading.Concern {
	if e.Scene.Looks.GreysInOrder || has(e.Reading, reading.TooBright) {
		return nil
	}
	return &reading.Concern{Kind: reading.GreysUnreadable,
		Words:  "the card’s greys are not in order from dark to light, so the camera’s tone curve could not be corrected",
		Remedy: "keep glare, shadows and dirt off the upper strip of the card, tap on the card to set the exposure, and turn off filters"}
}

// cardColours doubts a photo whose coloured patches are far from what was printed.
func cardColours(e Photo) *reading.Concern {
	s := e.Scene
	e.Reading.CardChroma, e.Reading.CardGreenOffDeg = reading.Number(s.Looks.MedianChroma()), reading.Number(s.Looks.HueOff[0])
	if s.Light.Coloured || !s.Looks.GreysInOrder {
		return nil // another concern says so
	}
	hue := s.Looks.MedianHueOff()
	c := &reading.Concern{Kind: reading.ColoursChanged, Remedy: keepColours}
	switch chroma := s.Looks.MedianChroma(); {
	case chroma > mostChroma:
		c.Words = fmt.Sprintf("the card’s colours are %.1f times as strong as printed (limit %.2f)", chroma, mostChroma)
		c.Bias = "yellow and brown would be overestimated"
	case chroma < leastChroma:
		c.Words = fmt.Sprintf("the card’s colours are only %.2f times as strong as printed (limit %.1f)", chroma, leastChroma)
		c.Bias = "yellow and brown would be underestimated"
		c.Remedy += "; if the printed card itself is pale, print it again"
	case hue > mostHueOff:
		c.Words = fmt.Sprintf("the hues of the card are off by %.0f° (limit %.0f°)", hue, mostHueOff)
		c.Remedy += "; if all photos are like this, print the card again"
	default:
		return nil
	}
	return c
}

const keepColours = "turn off the camera’s vivid mode and filters, and copy the original photo from the phone, because editors and messengers can remove its colour profile"

// compareCard doubts r where the card's colours are not what they are in the trial's other photos of this view.
func compareCard(r *reading.Reading, readings []reading.Reading) {
	if !(r.CardChroma > 0) || has(r, reading.ColoursChanged) {
		return
	}
	var chroma, green []float64
	for _, o := range readings {
		if o.View == r.View && o.CardChroma > 0 && o.CardGreenOffDeg.Known() {
			chroma, green = append(chroma, float64(o.CardChroma)), append(green, float64(o.CardGreenOffDeg))
		}
	}
	if len(green) < fewestCards {
		return
	}
	turned := float64(r.CardGreenOffDeg) - stats.Median(green)
	times := float64(r.CardChroma) / stats.Median(chroma)
	if math.Abs(turned) <= mostGreenChange && math.Abs(times-1) <= mostChromaChange {
		return
	}
	r.Doubt(reading.ColoursDiffering, keepColours, "compared with the other photos of the trial, the card’s hues are off by %.0f° and its colours are %.2f times as strong (limits %.0f° and %.0f %%)",
		math.Abs(turned), times, mostGreenChange, 100*mostChromaChange)
}

// has reports whether r has a concern of a kind.
func has(r *reading.Reading, kind reading.Kind) bool {
	for _, c := range r.Concerns {
		if c.Kind == kind {
			return true
		}
	}
	return false
}

// A lens that bends red less than blue puts red and blue rims on all that is thin, and pale roots with rims look brown. In some 120 drawn photos, without fringes, red edges of the card
// are read up to 0.025 mm off its blue ones. Where a lens put both 1 px off in the picture's corners, each its own way, they were 0.09 to 0.14 mm off on the card and browning came out
// 3 to 8 points too high; at 2.5 px 0.27 to 0.43 mm and 15 to 25 points, with root areas up to a tenth too large (five photos, measured once; no command prints it).
// Leaves are too wide for that.
const mostFringeMM = 0.08

// plainEdges doubts roots in a photo with red and blue fringes along the card's edges.
func plainEdges(e Photo) *reading.Concern {
	if e.Scene.Face != card.Roots {
		return nil
	}
	fringe := e.Scene.Fringe()
	if !(fringe > mostFringeMM) {
		return nil
	}
	return &reading.Concern{Kind: reading.ColoursChanged,
		Words:  fmt.Sprintf("edges have red and blue fringes: on the card, red and blue are %.2f mm apart (limit %.2f mm)", fringe, mostFringeMM),
		Remedy: "use the phone’s main camera without a clip-on lens, keep card and tray away from the picture’s edges, and copy the unedited photo",
		Bias:   "its roots would look too brown and a little too large"}
}
