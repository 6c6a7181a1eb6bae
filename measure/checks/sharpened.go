package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// How large thin roots are is read by how sharp the card's edges are. Sharpening draws halos beside edges: of 0.2 mm and more, roots came out 3 to 12 % too large,
// and of 0.1 mm, after a smoothing over shifted frames, a quarter. Over drawn photos halos are up to 0.02 mm, and where a phone sharpens by a pixel's width 0.07 mm.
// A program that enlarges a photo, or takes its noise away, and draws its edges again leaves edges sharp and lines broad: 1.2 to 1.65 times as broad as the edges say,
// with roots 10 to 45 % too large. Lines of drawn photos are up to 1.07 times as broad. All in photos by another program (measured once; no command prints it).
const (
	mostHaloMM = 0.09
	mostLines  = 1.15
)

// notRedrawn doubts a photo of roots whose edges a program has drawn sharper than the camera saw them.
func notRedrawn(e Photo) *reading.Concern {
	if e.Scene.Face != card.Roots || has(e.Reading, reading.ContrastChanged) {
		return nil // leaves keep their areas within a fiftieth
	}
	c := &reading.Concern{Kind: reading.ContrastChanged, Bias: "its root areas would be too large",
		Remedy: "turn off night mode, zoom and filters, and copy the original photo from the phone, not one that was enlarged or sharpened"}
	switch sharp := e.Scene.Edge; {
	case sharp.Lines > mostLines:
		c.Words = fmt.Sprintf("the photo was probably enlarged or smoothed: the card’s thinnest lines are %.2f times as wide as its edges suggest (limit %.2f)", sharp.Lines, mostLines)
	case sharp.Halo > mostHaloMM:
		c.Words = fmt.Sprintf("the photo was sharpened: the halos along the card’s edges add up to %.2f mm of white (limit %.2f mm)", sharp.Halo, mostHaloMM)
	default:
		return nil
	}
	return c
}
