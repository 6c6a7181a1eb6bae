package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// The card's greys undo the camera's curve, as long as it is one curve for the whole photo. What an editor's clarity or sharpening over millimetres does to
// black depends on how much paper lies around it: the middle of the card's wide black comes out lighter than its rim, which is the same ink in the same light.
// Over drawn photos, also under a phone's own local tone mapping, it is up to 1.06 times as light. From 1.25 on, after clarity, root areas were off by 3 to
// 20 %, in photos by another program (measured once; no command prints it).
//
// From place to place on the card black itself may differ: where its density is 0.1 less, as on office prints, it is 10^0.1 = 1.26 times as light, and under a
// sheen of 0.02 of paper's light at one end of the card (0.035+0.02)/0.035 = 1.57 times (values from memory). Neither changes a figure.
//
// An editor's equalisation bends the curve in each of some eight by eight tiles, as the tray in it asks. Along a marker's frame, 19 mm from side to side, printed black hardly
// changes: by a tenth under the sheen above. Over some 120 drawn photos it is up to 1.11 times as light on one side as on another, under a strong local tone mapping of a
// phone's own 1.15. After the mildest equalisation it was 1.26 to 1.6 in eight drawn photos, whose root areas came out 4 to 60 % too large (measured once; no command prints it).
//
// Black that is cut off shows none of this; a phone's usual curve leaves it 0.02 of paper's light.
const (
	mostMiddle      = 1.25
	mostBlackChange = 1.6
	mostAlongFrame  = 1.25
	leastBlack      = 0.005
)

// Scanner apps lift each part of a picture to the light of its lightest place, so that plants come out as light as paper. In the median cell of some eighty drawn trays, with
// perlite, drops and in uneven light, the lightest hundredth has up to 0.67 of paper's light, and under a strong local tone mapping of a phone's own
// 0.83. Scanned it had 0.78 to 1.16: root areas came out up to two thirds too large and yellow up to 10 points too low, leaf areas within a twentieth (measured once; no command
// prints it). Light trays are not checked.
const (
	mostInCells = 0.88
	lightTray   = 0.3 // of paper's light
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
	case e.Scene.OnCard.Black.Sides > mostAlongFrame:
		c.Words = fmt.Sprintf("contrast varies across the photo, probably from HDR or a filter: one side of a marker’s black frame is %.2f times as bright as another (limit %.2f)", e.Scene.OnCard.Black.Sides, mostAlongFrame)
	default:
		return asLightAsPaper(e)
	}
	return c
}

// asLightAsPaper doubts a photo in which roots or leaves are as light as the card's paper: something made the tray lighter, but not the card.
func asLightAsPaper(e Photo) *reading.Concern {
	tray := e.extent()
	if !(tray.CellsLight > mostInCells && tray.Usual < lightTray) || has(e.Reading, reading.SomethingOnTheTray) {
		return nil
	}
	c := &reading.Concern{Kind: reading.ContrastChanged,
		Words:  fmt.Sprintf("plants are as bright as paper: in half of the cells, the brightest places are at least %.2f times as bright as the card’s paper (limit %.2f); scanner apps and a card in shadow cause this", tray.CellsLight, mostInCells),
		Remedy: "use the phone’s camera app, not a scanner app, turn off filters, copy the unedited photo, and keep shadows off the card",
		Bias:   "its yellowing would be too low"}
	if e.Scene.Face == card.Roots {
		c.Bias = "its root areas would be too large"
	}
	return c
}
