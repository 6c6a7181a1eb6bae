package checks

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/vision"
	"traygauge/vision/card"
)

// Up to a tenth of a cell is the rim between plugs, where nothing is measured. Where half of a tray's plugs are covered, the others say little about the tray.
const (
	mostCoveredShare = 0.1
	mostCoveredPlugs = 0.5
)

// From below, a thing is found by what it hides, whatever its colour. A plug is covered where a twelfth of its rim is hidden: 9 mm of a rim 34 mm across. An empty
// cell is covered where a third of its rim is hidden: under less, one still sees that it is empty. Things that leave most of the rim in view show in the
// plug's narrowest diameter. Drawn whole plugs have at least 0.89 of the tray's usual one; at 0.8 a seventh of a plug is hidden from one side.
const (
	hiddenRim, hiddenEmptyRim = 0.08, 0.33
	leastNarrowest            = 0.8
)

// From above, a plant label across a wall or two does no harm: it is 12 mm wide at most (common practice, no source), and light or brightly coloured. What is dark
// is no label, and counts from leastDarkMM on.
const labelMM, leastDarkMM = 12.5, 9.5

// nothingOver looks for things that lie over plugs. What was measured of a covered plug counts only where someone includes it.
func nothingOver(e Photo) *reading.Concern {
	var names []string
	all := covered(e)
	for i, over := range all {
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
	c := &reading.Concern{Kind: reading.SomethingOnTheTray, Fatal: float64(len(names)) >= mostCoveredPlugs*float64(len(e.Reading.Plugs)),
		Words:  fmt.Sprintf("something covers %s (%s), so not counted in any result", wording.Counted(len(names), "plug", "plugs"), wording.First(names, 6)),
		Remedy: fmt.Sprintf("uncover %s and take the photo again", wording.First(names, 6))}
	if c.Fatal {
		c.Remedy += "; if nothing covers them, check plug_bottom_mm, pitch_mm, rows and columns in " + plan.FileName
		return c
	}
	c.Remedy += "; if nothing covers a plug, for example because it is broken, include it in review"
	if outer := outerRows(all, e.Tray.Rows, e.Tray.Columns); outer != "" {
		c.Remedy += fmt.Sprintf("; if the tray has no plugs there, check %s in %s", outer, plan.FileName)
	}
	return c
}

// outerRows returns "rows" where something lies over all of the tray's first or last row, "columns" where it does over a column, else "": the tray may have none there.
func outerRows(over []bool, rows, columns int) string {
	all := func(from, step, n int) bool {
		for i := range n {
			if !over[from+i*step] {
				return false
			}
		}
		return true
	}
	switch {
	case all(0, 1, columns) || all((rows-1)*columns, 1, columns):
		return "rows"
	case all(0, columns, rows) || all(columns-1, columns, rows):
		return "columns"
	}
	return ""
}

// covered returns for each cell, in reading order, whether something lies over it: by its colour or by what it hides.
func covered(e Photo) []bool {
	over, hides := make([]bool, e.Tray.Rows*e.Tray.Columns), e.hides()
	for i, share := range vision.Covered(e.Scene, e.Tray, e.Grid) {
		over[i] = share > mostCoveredShare || hides[i]
	}
	return over
}

// hides returns for each cell, in reading order, whether something hides its rim, a part of its plug or its walls. Haze hides them, too, and a card of the wrong
// scale has them looked for in the wrong place. Where nothing is as even as things are, both are left to their own checks.
func (e Photo) hides() []bool {
	look := e.rimsHidden
	if e.Scene.Face == card.Shoots {
		look = e.wallsHidden
	}
	hides, even := look()
	if slices.Contains(hides, true) && !even && (e.hazy() || e.scaleOff() != nil) {
		return make([]bool, len(hides))
	}
	return hides
}

// rimsHidden returns for each cell whether something hides its rim or a part of its plug, and whether any of these things is even.
func (e Photo) rimsHidden() (hides []bool, even bool) {
	around := math.Pi * e.Tray.PlugMM
	hides = make([]bool, len(e.Plugs))
	for i, rim := range vision.RimsHidden(e.Scene, e.Tray, e.Grid) {
		p, least := e.Plugs[i], hiddenRim*around
		if p.Cut {
			continue
		}
		if p.Empty {
			least = hiddenEmptyRim * around
		}
		hides[i] = rim.Any > least || p.Beyond || !p.Empty && p.Narrowest < leastNarrowest
		even = even || rim.Even > least
	}
	return hides, even
}

// wallsHidden returns for each cell whether something hides one of its walls, and whether any of these things is even.
func (e Photo) wallsHidden() (hides []bool, even bool) {
	for _, wall := range vision.WallsHidden(e.Scene, e.Tray, e.Grid, e.Leaf) {
		hides = append(hides, wall.Any > labelMM || wall.Dark > leastDarkMM)
		even = even || wall.Even > labelMM
	}
	return hides, even
}

// hidden is a plug of which nothing was measured, with the reason.
func hidden(was reading.Plug, flag string) reading.Plug {
	g := reading.EmptyPlug(was.Name)
	g.State, g.Place, g.Flags = reading.Hidden, was.Place, []string{flag}
	return g
}
