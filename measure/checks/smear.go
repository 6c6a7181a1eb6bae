package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// What lies on the lens over one part of the picture takes contrast from the fine grain there. Over drawn trays the clearest part has up to 1.85 times the grain
// of the faintest, in a closed canopy 2.2 times. In photos by another program, smeared over the far half, roots were off by 5 to 15 % at 2.5 to 2.8 times and
// leaves by 60 % and more at 5 times (measured once; no command prints it).
const (
	mostGrainChange     = 2.0
	mostLeafGrainChange = 2.5
	worstGrainChange    = 4.0
)

// clearAllOver holds the grain of the tray's parts against each other.
func clearAllOver(e Photo) *reading.Concern {
	for _, k := range []reading.Kind{reading.PartlyBlurred, reading.VeilOverTray, reading.SomethingOnTheTray} {
		if has(e.Reading, k) {
			return nil // that follows from it
		}
	}
	change, most := e.grainChange()
	if change <= most {
		return nil
	}
	bias := tooSmall
	if e.Scene.Face == card.Shoots {
		bias = "its areas would be too large"
	}
	return &reading.Concern{Kind: reading.VeilOverTray, Fatal: change > worstGrainChange,
		Words:  fmt.Sprintf("part of the tray is hazy: fine grain is %.1f times as clear elsewhere (limit %.1f)", change, most),
		Remedy: "wipe the lens, let fog and drops dry, keep lamps from shining into the lens, and take the photo again", Bias: bias}
}

// hazy reports whether one part of the tray has less fine grain than is allowed.
func (e Photo) hazy() bool {
	change, most := e.grainChange()
	return change > most
}

// grainChange returns how many times as clearly fine grain stands out in the tray's clearest part as in its faintest, and how many times is allowed. It is 0 where fewer
// than half of the plugs have a plant, since holes and bare plugs have little grain.
func (e Photo) grainChange() (change, most float64) {
	most = mostGrainChange
	if e.Scene.Face == card.Shoots {
		most = mostLeafGrainChange
	}
	planted := 0
	for _, g := range e.Reading.Plugs {
		planted += count(g.State == reading.Planted)
	}
	if 2*planted < len(e.Reading.Plugs) {
		return 0, most
	}
	return vision.UnevenGrain(e.Scene, e.Tray, e.Grid), most
}
