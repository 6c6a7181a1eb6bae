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
		Remedy: "turn off HDR and filters, hold the phone still, keep reflections off the card, and copy the unedited photo from the phone; if all photos are like this, print the card again"}
	switch {
	case most < leastBlack:
		c.Words = fmt.Sprintf("an editor or filter has cut off dark tones: the card’s black reflects %.1f %% of white (minimum %.1f %%)", 100*most, 100*leastBlack)
	case e.Scene.OnCard.Black.Middle > mostMiddle:
		c.Words = fmt.Sprintf("contrast varies across the photo, probably from HDR or a filter: black on the card is %.2f times as bright in the middle of an area as next to white paper (limit %.2f)", e.Scene.OnCard.Black.Middle, mostMiddle)
	case most > mostBlackChange*least:
		c.Words = fmt.Sprintf("contrast varies across the card: its black is %.2f times as bright at one marker or grey as at another (limit %.2f)", most/least, mostBlackChange)
	default:
		return nil
	}
	return c
}
