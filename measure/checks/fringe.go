package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// A lens that bends red less than blue puts red and blue rims on all that is thin, and pale roots with rims look brown. In some 120 drawn photos, without fringes, red edges of the card
// are read up to 0.025 mm off its blue ones. Where a lens put both 1 px off in the picture's corners, each its own way, they were 0.09 to 0.14 mm off on the card and browning came out
// 3 to 8 points too high; at 2.5 px 0.27 to 0.43 mm and 15 to 25 points, with root areas up to a tenth too large (five photos, measured once; no command prints it).
// Leaves are too wide for that.
const mostFringeMM = 0.08

// plainEdges doubts roots in a photo with red and blue fringes along the card's edges.
func plainEdges(e Photo) *reading.Concern {
	if e.Scene.Face != card.Roots || !(e.Scene.OnCard.Fringe > mostFringeMM) {
		return nil
	}
	return &reading.Concern{Kind: reading.ColoursChanged,
		Words:  fmt.Sprintf("edges have red and blue fringes: on the card, red and blue are %.2f mm apart (limit %.2f mm)", e.Scene.OnCard.Fringe, mostFringeMM),
		Remedy: "use the phone’s main camera without a clip-on lens, keep card and tray away from the picture’s edges, and copy the unedited photo",
		Bias:   "its roots would look too brown and a little too large"}
}
