package checks

import (
	"fmt"

	"traygauge/measure/reading"
)

// The card's greys undo the camera's curve, as long as it is one curve for the whole photo. What an editor's clarity or sharpening over millimetres does to
// black depends on how much paper lies around it: the middle of the card's wide black comes out lighter than its rim, which is the same ink in the same light.
// Over drawn photos, also under a phone's own local tone mapping, it is up to 1.06 times as light. From 1.25 on, after clarity, root areas were off by 3 to
// 20 %, in photos by another program (measured once; no command prints it).
//
// From place to place on the card black itself may differ: where its density is 0.1 less, as on office prints, it is 10^0.1 = 1.26 times as light, and under a
// sheen of 0.02 of paper's light at one end of the card (0.035+0.02)/0.035 = 1.57 times (values from memory). Neither changes a figure.
//
// Black that is cut off shows none of this; a phone's usual curve leaves it 0.02 of paper's light.
const (
	mostMiddle      = 1.25
	mostBlackChange = 1.6
	leastBlack      = 0.005
)

// evenContrast doubts a photo whose contrast was changed more in one place than in another.
func evenContrast(e Photo) *reading.Concern {
	if has(e.Reading, reading.LightOnCard) || has(e.Reading, reading.GreysUnreadable) {
		return nil // that follows from it
	}
	least, most := e.Scene.OnCard.Black.Range()
	c := &reading.Concern{Kind: reading.ContrastChanged,
		Remedy: "switch off the camera’s HDR and filters, copy the photo from the phone unedited, hold the phone still and keep reflections off the card; if all photos are like this, print the card again"}
	switch {
	case most < leastBlack:
		c.Words = fmt.Sprintf("the card’s black sends back %.1f %% of paper’s light, at least %.1f %% is needed: an editor or filter cut the dark off", 100*most, 100*leastBlack)
	case e.Scene.OnCard.Black.Middle > mostMiddle:
		c.Words = fmt.Sprintf("contrast was changed from place to place: what is black on the card is %.2f times as light in its middle as beside white paper, up to %.2f times is allowed", e.Scene.OnCard.Black.Middle, mostMiddle)
	case most > mostBlackChange*least:
		c.Words = fmt.Sprintf("contrast changes from place to place: the card’s black is %.2f times as light at one marker or grey as at another, up to %.2f times is allowed", most/least, mostBlackChange)
	default:
		return nil
	}
	return c
}
