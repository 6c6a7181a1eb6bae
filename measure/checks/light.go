package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// The card shows the light where it lies; the tray's plastic shows whether the rest of the tray has the same. Over drawn photos its colour
// changes by up to 1.2 times. From 1.35 on, with half a tray under a slightly pink lamp, leaves look
// yellow and roots brown (measured once; no command prints it). Its brightness changes
// by up to 3 times, and roots keep their areas down to a third of the light; at a fifth a seventh of them is missed.
const (
	mostColourChange = 1.3
	mostLightChange  = 3.5
)

// evenLight compares the light on the parts of the tray.
func evenLight(e Photo) *reading.Concern {
	if e.Scene.Light.Coloured || has(e.Reading, reading.SomethingOnTheTray) {
		return nil // another concern says so
	}
	u := vision.Unevenness(e.Scene, e.Tray, e.Grid, e.Leaf)
	switch {
	case u.Colour > mostColourChange:
		for i := range e.Reading.Plugs {
			withholdColours(&e.Reading.Plugs[i])
		}
		return &reading.Concern{Kind: reading.MixedLight,
			Words:  fmt.Sprintf("the tray is lit in two colours: the colour of its plastic differs by a factor of %.1f between parts (limit %.1f), so yellowing and browning were not measured", u.Colour, mostColourChange),
			Remedy: "turn off coloured lamps, or shade the tray from all lights but one; the areas can be used"}
	case u.Light > mostLightChange && e.Scene.Face == card.Roots:
		return &reading.Concern{Kind: reading.Shadow,
			Words:  fmt.Sprintf("there is a shadow on the tray: its brightest part has %.1f times the light of its darkest part (limit %.1f)", u.Light, mostLightChange),
			Remedy: "step out of the light, or light the tray from two sides", Bias: "its root areas would be too small"}
	}
	return nil
}

// withholdColours takes out what is measured by hue.
func withholdColours(g *reading.Plug) {
	blank := reading.EmptyPlug(g.Name)
	g.ChloroticPct, g.ChlorUPct = blank.ChloroticPct, blank.ChlorUPct
	g.LeafHueDeg, g.LeafHueUDeg, g.DGCI, g.DGCIU = blank.LeafHueDeg, blank.LeafHueUDeg, blank.DGCI, blank.DGCIU
	g.RootBrowningPct, g.RootBrownUPct = blank.RootBrowningPct, blank.RootBrownUPct
	for _, value := range []string{"chlorotic_pct", "root_browning_pct", "leaf_hue_deg", "dgci"} {
		delete(g.Budgets, value)
	}
}
