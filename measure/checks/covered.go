package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/vision"
)

// What lies over a plug hides of it what it covers. A tenth of a cell is the rim between plugs, where nothing is measured; from half of the
// tray on the rest says little of the tray.
const (
	mostCoveredShare = 0.1
	mostCoveredPlugs = 0.5
)

// nothingOver looks for things that lie over plugs. What is covered was not measured.
func nothingOver(e Photo) *reading.Concern {
	var names []string
	for i, share := range vision.Covered(e.Scene, e.Tray, e.Grid) {
		if share <= mostCoveredShare || i >= len(e.Reading.Plugs) {
			continue
		}
		e.Reading.Plugs[i] = hidden(e.Reading.Plugs[i], reading.Covered)
		names = append(names, e.Reading.Plugs[i].Name)
	}
	if len(names) == 0 {
		return nil
	}
	e.Reading.CanopyCoverPct = reading.Missing
	c := &reading.Concern{Kind: reading.SomethingOnTheTray, Fatal: float64(len(names)) >= mostCoveredPlugs*float64(len(e.Reading.Plugs)),
		Words:  fmt.Sprintf("something covers %s (%s), which were not measured", wording.Counted(len(names), "plug", "plugs"), wording.First(names, 6)),
		Remedy: "clear the tray and take the photo again"}
	return c
}

// hidden is a plug of which nothing was measured, with the reason.
func hidden(was reading.Plug, flag string) reading.Plug {
	g := reading.EmptyPlug(was.Name)
	g.State, g.Place, g.Flags = reading.Hidden, was.Place, []string{flag}
	return g
}
