package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// Phones put several pictures together, for HDR and at night. Where the tray moved in between, or where they are laid together badly, it is in the photo twice, although
// the card may not be. Moved by 3 to 15 pixels, over drawn trays, root areas came out 8 to 70 % too large and leaf areas 1 to 46 % (measured once; no command prints it).
// Drawn photos that were taken once reach 1.39 times what vision takes for usual, and a real photo of roots on woven paper 1.96 times. Moved by 5 pixels and more, in a part
// of three by three cells or more, it is 1.5 to 5 times, less where few roots or leaves show it.
const (
	mostDoubled  = 1.5
	worstDoubled = 2
)

// takenOnce doubts roots and leaves that are in the photo twice, and refuses roots where that is clear.
func takenOnce(e Photo) *reading.Concern {
	if has(e.Reading, reading.VeilOverTray) {
		return nil // a net's threads are doubles of each other
	}
	times, px := vision.Doubled(e.Scene, e.Tray, e.Grid)
	if !(times > mostDoubled) {
		return nil
	}
	return &reading.Concern{Kind: reading.Doubled, Fatal: e.Scene.Face == card.Roots && times > worstDoubled, Bias: "its areas would be too large",
		Words:  fmt.Sprintf("part of the tray appears twice, %.1f mm apart, probably because it moved while the phone combined several shots", px/float64(e.Reading.PxPerMM)),
		Remedy: "turn off HDR and night mode, keep the phone and the tray still, and take the photo again"}
}
