package checks

import (
	"fmt"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/vision"
	"traygauge/vision/card"
)

// What lies over a plug hides of it what it covers. A tenth of a cell is the rim between plugs, where nothing is measured; from half of the
// tray on the rest says little of the tray.
const (
	mostCoveredShare = 0.1
	mostCoveredPlugs = 0.5
)

// From below a thing shows by what it hides, whatever its colour. It lies over a plug where a twelfth of the rim is not seen: a rim of 34 mm under something
// 9 mm wide. Of an empty cell's rim a third is asked for: what covers less of one leaves it seen that it is empty. Of what leaves the rim in view, or most of it, a plug's narrowest
// diameter tells: drawn whole plugs have 0.89 of the tray's usual one and more, and at 0.8 a seventh of a plug is hidden from one side.
const (
	hiddenRim, hiddenEmptyRim = 1. / 12, 1. / 3
	leastNarrowest            = 0.8
)

// From above a plant label lies across one wall or two, which does no harm: it is 12 mm wide at most (common practice, no source), and light or brightly coloured.
const labelMM, leastDarkMM = 12.5, 9.5

// nothingOver looks for things that lie over plugs. What is covered was not measured.
func nothingOver(e Photo) *reading.Concern {
	var names []string
	for i, over := range covered(e) {
		if !over || i >= len(e.Reading.Plugs) {
			continue
		}
		e.Reading.Plugs[i] = hidden(e.Reading.Plugs[i], reading.Covered)
		names = append(names, e.Reading.Plugs[i].Name)
	}
	if len(names) == 0 {
		return nil
	}
	e.Reading.CanopyCoverPct = reading.Missing
	return &reading.Concern{Kind: reading.SomethingOnTheTray, Fatal: float64(len(names)) >= mostCoveredPlugs*float64(len(e.Reading.Plugs)),
		Words:  fmt.Sprintf("something covers %s (%s), which were not measured", wording.Counted(len(names), "plug", "plugs"), wording.First(names, 6)),
		Remedy: fmt.Sprintf("take off what lies over %s and take the photo again", wording.First(names, 6))}
}

// covered returns for each cell, in reading order, whether something lies over it.
func covered(e Photo) []bool {
	over := make([]bool, e.Tray.Rows*e.Tray.Columns)
	for i, share := range vision.Covered(e.Scene, e.Tray, e.Grid) {
		over[i] = share > mostCoveredShare
	}
	if e.Scene.Face == card.Shoots {
		for i, across := range vision.WallsHidden(e.Scene, e.Tray, e.Grid, e.Leaf) {
			over[i] = over[i] || across.MM > labelMM || across.DarkMM > leastDarkMM
		}
		return over
	}
	rims := vision.RimsHidden(e.Scene, e.Tray, e.Grid)
	for i, p := range e.Plugs {
		switch {
		case p.Cut:
		case p.Empty:
			over[i] = over[i] || rims[i] >= hiddenEmptyRim
		default:
			over[i] = over[i] || rims[i] >= hiddenRim || p.Narrowest < leastNarrowest
		}
	}
	return over
}

// hidden is a plug of which nothing was measured, with the reason.
func hidden(was reading.Plug, flag string) reading.Plug {
	g := reading.EmptyPlug(was.Name)
	g.State, g.Place, g.Flags = reading.Hidden, was.Place, []string{flag}
	return g
}
