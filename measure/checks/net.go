package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// Under a net the same threads come back every few mm: fine things in neighbouring cells are like themselves a mesh away. That likeness is at most 0.24 over drawn
// trays, from above and from below. Under nets with meshes of 1.4 and 4 mm, in a photo by another program, it was 0.53 and more, and leaf areas were 11 to 14 % too
// small (measured once; no command prints it). From below a net hides plugs' rims, which another check sees.
const mostRepeated = 0.35

// noNet looks for a net over the leaves.
func noNet(e Photo) *reading.Concern {
	if e.Scene.Face != card.Shoots {
		return nil
	}
	repeated := vision.Repeated(e.Scene, e.Tray, e.Grid)
	if !(repeated > mostRepeated) {
		return nil
	}
	return &reading.Concern{Kind: reading.VeilOverTray, Bias: tooSmall,
		Words:  fmt.Sprintf("there seems to be a net over the tray: in some neighbouring cells, %.0f %% of the fine pattern repeats every few mm (limit %.0f %%)", 100*repeated, 100*mostRepeated),
		Remedy: "remove the net and take the photo again; if there is no net, turn off HDR, keep the phone and the tray still, and photograph the tray itself, not a print or a screen"}
}
