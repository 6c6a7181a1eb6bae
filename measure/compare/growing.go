package compare

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure"
)

// A tray is held back when its root or its leaf area is less than this share of its control's. Trays treated alike often
// differ by a tenth (common practice, no source).
const heldBackBelow = 0.9

// A tray yellows, or its roots brown, when the share is this much above its control's on the same day, in percentage points:
// beyond what measuring gets wrong. On drawn photos 95 of 100 plants' yellow shares were within 4 points, and brown root
// area was off by a fifth (vision/README.md, Accuracy).
const (
	yellowingPoints = 5
	browningPoints  = 10
)

// growing sorts a day's trays by growth and colour, each beside the first of its controls that was measured that day.
func (t *trial) growing(day int) []TrayGrowth {
	list := []TrayGrowth{}
	for _, treatment := range t.plan.Treatments {
		numbers := t.plan.TraysOf(treatment.Name)
		slices.Sort(numbers)
		for _, tray := range numbers {
			if t.photographed(day, tray) {
				list = append(list, t.growthOf(day, tray, treatment.Name, treatment.CompareWith))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b TrayGrowth) int { return a.Tray - b.Tray })
	return list
}

func (t *trial) photographed(day, tray int) bool {
	_, roots := t.photos[occasion{day, tray, "roots"}]
	_, shoots := t.photos[occasion{day, tray, "shoots"}]
	return roots || shoots
}

// growthOf gathers one tray's numbers and sorts it.
func (t *trial) growthOf(day, tray int, treatment string, controls []string) TrayGrowth {
	m := measure.Missing
	g := TrayGrowth{Day: day, Tray: tray, Treatment: treatment, RootRatio: m, LeafRatio: m, ChloroticOff: m, BrowningOff: m}
	own := func(name string) measure.Number { return t.meanOver(name, day, []int{tray}) }
	g.ChloroticPct, g.BrowningPct = own(Chlorotic), own(RootBrowning)
	if len(controls) == 0 {
		g.Why = "it has no control"
		return g
	}
	for _, control := range controls {
		beside := t.plan.TraysOf(control)
		g.Control = control
		g.RootRatio = over(own(RootArea), t.meanOver(RootArea, day, beside))
		g.LeafRatio = over(own(LeafArea), t.meanOver(LeafArea, day, beside))
		g.ChloroticOff = g.ChloroticPct - t.meanOver(Chlorotic, day, beside)
		g.BrowningOff = g.BrowningPct - t.meanOver(RootBrowning, day, beside)
		if g.LeafRatio.Known() && g.ChloroticOff.Known() {
			break
		}
	}
	g.sort()
	return g
}

// sort decides among the four. Leaves decide where roots were not measured; without leaves there is no colour to sort by.
func (g *TrayGrowth) sort() {
	if !g.LeafRatio.Known() || !g.ChloroticOff.Known() {
		g.Why = "leaves of the tray or of its control were not measured that day"
		return
	}
	var back, pale []string
	if g.RootRatio.Known() && g.RootRatio < heldBackBelow {
		back = append(back, fmt.Sprintf("root area %.2f of the control's", float64(g.RootRatio)))
	}
	if g.LeafRatio < heldBackBelow {
		back = append(back, fmt.Sprintf("leaf area %.2f of the control's", float64(g.LeafRatio)))
	}
	yellow := g.ChloroticOff >= yellowingPoints
	if yellow {
		pale = append(pale, fmt.Sprintf("yellow share %.0f points above the control's", float64(g.ChloroticOff)))
	}
	brown := g.BrowningOff.Known() && g.BrowningOff >= browningPoints
	if brown {
		pale = append(pale, fmt.Sprintf("brown roots %.0f points above the control's", float64(g.BrowningOff)))
	}
	switch {
	case len(back) > 0 && (yellow || brown):
		g.Growing = HeldBackPale
	case len(back) > 0:
		g.Growing = HeldBackGreen
	case yellow:
		g.Growing = WellYellowing
	default:
		g.Growing = WellGreen
	}
	reasons := append(back, pale...)
	if !g.RootRatio.Known() {
		reasons = append(reasons, "by its leaves alone")
	}
	g.Why = strings.Join(reasons, ", ")
}

// meanOver returns the mean of a quantity over trays on a day, each tray counting alike.
func (t *trial) meanOver(name string, day int, trays []int) measure.Number {
	var values []float64
	for _, tray := range trays {
		if f, ok := t.figureOf(quantityCalled(name), day, tray); ok {
			values = append(values, f.value)
		}
	}
	return number(mean(values))
}

// over divides; by 0 or by nothing gives nothing.
func over(a, b measure.Number) measure.Number {
	if !(b > 0) {
		return measure.Missing
	}
	return number(float64(a / b))
}
