package checks

import (
	"fmt"

	"traygauge/measure/reading"
)

// The card's greys are grey in every spot. Where they are speckled with colour, so is the tray: a print or a screen was photographed, whose dots show, or the sensor's own pattern.
// Over drawn photos, the noisy ones too, colour scatters by up to 0.009 of paper's light. In photos by another program leaf areas came out more than twice as large
// at 0.03 (a print's dots) and browning 12 points too high at 0.05 (broad fringes; measured once, no command prints it).
const mostSpeckle = 0.02

// plainGreys doubts a photo whose card has speckles of colour on its greys.
func plainGreys(e Photo) *reading.Concern {
	if e.Scene.Light.Coloured || has(e.Reading, reading.Noisy) || !(e.Scene.OnCard.Speckle > mostSpeckle) {
		return nil // under a coloured lamp, or in noise, colours scatter by themselves
	}
	return &reading.Concern{Kind: reading.ColoursChanged,
		Words:  fmt.Sprintf("this may be a photo of a print or a screen: colour on the card’s greys varies by %.1f %% of white (limit %.0f %%)", 100*e.Scene.OnCard.Speckle, 100*mostSpeckle),
		Remedy: "photograph the tray itself; if you did, change the distance a little and take the photo again"}
}
