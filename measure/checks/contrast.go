package checks

import (
	"fmt"

	"traygauge/measure/reading"
)

// The card's greys undo the camera's curve, as long as it is one curve for the whole photo. Then what is printed black on the card has one light over the
// paper beside it: over drawn photos it differs by up to 1.08 times, also under a phone's own local tone mapping. From 1.15 on, after an editor's clarity or
// local contrast, root areas were off by 5 to 20 % and more, in photos by another program (measured once; no command prints it). Black that is cut off
// shows neither; a phone's usual curve leaves it 0.02 of paper's light.
const (
	mostBlackChange = 1.15
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
	case most > mostBlackChange*least:
		c.Words = fmt.Sprintf("contrast changes from place to place: the card’s black is %.2f times as light at one marker or grey as at another, up to %.2f times is allowed", most/least, mostBlackChange)
	default:
		return nil
	}
	return c
}
