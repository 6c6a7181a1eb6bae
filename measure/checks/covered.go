package checks

import (
	"fmt"
	"math"
	"slices"

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

// From below a thing shows by what it hides, whatever its colour. It lies over a plug where a twelfth of the rim is not seen: 9 mm of a rim 34 mm across.
// Of an empty cell's rim a third is asked for: what covers less of one leaves it seen that it is empty. Of what leaves the rim in view, or most of it,
// a plug's narrowest diameter tells: drawn whole plugs have 0.89 of the tray's usual one and more, and at 0.8 a seventh of a plug is hidden from one side.
const (
	hiddenRim, hiddenEmptyRim = 0.08, 0.33
	leastNarrowest            = 0.8
)

// From above a plant label lies across a wall or two, which does no harm: it is 12 mm wide at most (common practice, no source), and light or brightly coloured.
const labelMM, leastDarkMM = 12.5, 9.5

// nothingOver looks for things that lie over plugs. What was measured of a covered plug counts only where somebody includes it.
func nothingOver(e Photo) *reading.Concern {
	var names []string
	for i, over := range covered(e) {
		if !over || i >= len(e.Reading.Plugs) {
			continue
		}
		if was := e.Reading.Plugs[i]; was.State == reading.Planted {
			e.Reading.Covered = append(e.Reading.Covered, was)
		}
		e.Reading.Plugs[i] = hidden(e.Reading.Plugs[i], reading.Covered)
		names = append(names, e.Reading.Plugs[i].Name)
	}
	if len(names) == 0 {
		return nil
	}
	e.Reading.CanopyCoverPct = reading.Missing
	return &reading.Concern{Kind: reading.SomethingOnTheTray, Fatal: float64(len(names)) >= mostCoveredPlugs*float64(len(e.Reading.Plugs)),
		Words:  fmt.Sprintf("something covers %s (%s), left out of all results", wording.Counted(len(names), "plug", "plugs"), wording.First(names, 6)),
		Remedy: fmt.Sprintf("take off what lies over %s and take the photo again; if nothing lies there, for example because a plug is broken, include that plug in review", wording.First(names, 6))}
}

// covered returns for each cell, in reading order, whether something lies over it: by its colour or by what it hides.
func covered(e Photo) []bool {
	over, hides := make([]bool, e.Tray.Rows*e.Tray.Columns), e.hides()
	for i, share := range vision.Covered(e.Scene, e.Tray, e.Grid) {
		over[i] = share > mostCoveredShare || hides[i]
	}
	return over
}

// hides returns for each cell, in reading order, whether something hides its rim, a part of its plug or its walls. Haze hides them, too, and by a card of the wrong
// scale they are looked for beside where they are: where nothing is as even as things are, it is left to those checks.
func (e Photo) hides() []bool {
	hides, even := make([]bool, e.Tray.Rows*e.Tray.Columns), false
	some := func(i int, is, isEven bool) { hides[i], even = hides[i] || is, even || isEven }
	if e.Scene.Face == card.Shoots {
		for i, wall := range vision.WallsHidden(e.Scene, e.Tray, e.Grid, e.Leaf) {
			some(i, wall.Any > labelMM || wall.Dark > leastDarkMM, wall.Even > labelMM)
		}
	} else {
		around := math.Pi * e.Tray.PlugMM
		for i, rim := range vision.RimsHidden(e.Scene, e.Tray, e.Grid) {
			p, least := e.Plugs[i], hiddenRim*around
			switch {
			case p.Cut:
				continue
			case p.Empty:
				least = hiddenEmptyRim * around
			}
			some(i, rim.Any > least || p.Beyond || !p.Empty && p.Narrowest < leastNarrowest, rim.Even > least)
		}
	}
	if slices.Contains(hides, true) && !even && (e.hazy() || e.scaleOff() != nil) {
		return make([]bool, len(hides))
	}
	return hides
}

// hidden is a plug of which nothing was measured, with the reason.
func hidden(was reading.Plug, flag string) reading.Plug {
	g := reading.EmptyPlug(was.Name)
	g.State, g.Place, g.Flags = reading.Hidden, was.Place, []string{flag}
	return g
}
