package checks

import (
	"fmt"
	"math"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/vision"
	"traygauge/vision/card"
)

// How sharp the photo is, the card shows where it lies, and the networks go by that. Over drawn trays in focus the clearest edges on plug bottoms are
// up to 1.4 times as blurred as the card's, those of leaves, which are round and stand higher, up to 2.1 times. In two photos by another program, blurred
// so on their far half, roots came out a seventh and more too large (measured once; no command prints it).
const (
	softerRoots   = 1.5
	softerLeaves  = 2.2
	mostSoftPlugs = 0.5  // from half of the tray on the rest says little of the tray
	usualBlurMM   = 0.12 // of photos; the networks see hardly less

	// Of leaves in focus on drawn trays, where they are 1.9 times as blurred as the card's edges and more, the most blurred have 0.3 mm. Where the
	// tray was smeared over 2 mm beside a sharp card they had 0.37 to 0.56, with areas 2 to 24 points larger, and where it was blurred by a disc of 0.5 mm 0.35 to 0.49, with 2 to 9
	// (measured once; no command prints it).
	harmlessLeafBlurMM = 0.34
)

// evenFocus holds how sharp the photo is on the tray against how sharp it is on the card. What is too blurred to be measured was not measured.
func evenFocus(e Photo) *reading.Concern {
	softer, thinnest, harmless := softerRoots, thinnestRootMM, usualBlurMM
	if e.Scene.Face == card.Shoots {
		softer, thinnest, harmless = softerLeaves, thinnestStalkMM, harmlessLeafBlurMM
	}
	onCard := e.Scene.Edge.WorstBlurMM()
	if math.IsNaN(onCard) {
		onCard = usualBlurMM
	}
	var names, lost []string
	least := math.Inf(1)
	for i, blur := range vision.Blur(e.Scene, e.Tray, e.Grid) {
		if i >= len(e.Reading.Plugs) || !(blur > max(softer*onCard, harmless)) || e.Reading.Plugs[i].State != reading.Planted {
			continue
		}
		contrast := contrastLeft(blur, thinnest)
		least = math.Min(least, contrast)
		names = append(names, e.Reading.Plugs[i].Name)
		if contrast < leastContrast {
			e.Reading.Plugs[i] = hidden(e.Reading.Plugs[i], reading.OutOfFocus)
			lost = append(lost, e.Reading.Plugs[i].Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	c := &reading.Concern{Kind: reading.PartlyBlurred,
		Fatal:  float64(len(lost)) >= mostSoftPlugs*float64(len(e.Reading.Plugs)),
		Words:  fmt.Sprintf("the photo is sharp on the card but blurred on %s (%s): details of %g mm keep only %.0f %% of their contrast there", wording.Counted(len(names), "plug", "plugs"), wording.First(names, 6), thinnest, 100*least),
		Remedy: "turn off fans, wipe the lens, hold the phone level and still above the middle of the tray, tap on the plugs to focus, and take the photo again",
		Bias:   "its areas would be too large"}
	if len(lost) > 0 {
		e.Reading.CanopyCoverPct = reading.Missing
		c.Words += fmt.Sprintf("; %s not measured (below %.0f %%)", wording.Counted(len(lost), "plug", "plugs"), 100*leastContrast)
	}
	return c
}
