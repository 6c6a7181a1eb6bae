package compare

import (
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
)

// growing sorts a day's trays by growth and colour, each beside the first of its controls that was measured that day.
func (t *trial) growing(day int) []outcome.TrayGrowth {
	list := []outcome.TrayGrowth{}
	for _, treatment := range t.Plan.Treatments {
		numbers := t.Plan.TraysOf(treatment.Name)
		slices.Sort(numbers)
		for _, tray := range numbers {
			if t.photographed(day, tray) {
				list = append(list, t.growthOf(day, tray, treatment.Name, treatment.CompareWith))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b outcome.TrayGrowth) int { return a.Tray - b.Tray })
	return list
}

func (t *trial) photographed(day, tray int) bool {
	_, roots := t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Roots}]
	_, shoots := t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Shoots}]
	return roots || shoots
}

// growthOf gathers one tray's numbers and sorts it.
func (t *trial) growthOf(day, tray int, treatment string, controls []string) outcome.TrayGrowth {
	m := reading.Missing
	g := outcome.TrayGrowth{Day: day, Tray: tray, Treatment: treatment, RootRatio: m, LeafRatio: m, ChloroticOff: m, BrowningOff: m}
	own := func(name string) reading.Number { return t.meanOver(name, day, []int{tray}) }
	g.ChloroticPct, g.BrowningPct = own(outcome.Chlorotic), own(outcome.RootBrowning)
	g.Plants, g.Plugs = t.StandOfTray(day, tray)
	if len(controls) == 0 {
		g.Why = "not compared with another treatment"
		return g
	}
	for _, control := range controls {
		beside := t.Plan.TraysOf(control)
		g.Control = control
		g.RootRatio = over(own(outcome.RootArea), t.meanOver(outcome.RootArea, day, beside))
		g.LeafRatio = over(own(outcome.LeafArea), t.meanOver(outcome.LeafArea, day, beside))
		g.ChloroticOff = g.ChloroticPct - t.meanOver(outcome.Chlorotic, day, beside)
		g.BrowningOff = g.BrowningPct - t.meanOver(outcome.RootBrowning, day, beside)
		if g.LeafRatio.Known() && g.ChloroticOff.Known() {
			break
		}
	}
	g.Sort()
	return g
}

// meanOver returns the mean of a quantity over trays on a day.
func (t *trial) meanOver(name string, day int, trays []int) reading.Number {
	var values, us []float64
	q := trayfigure.QuantityCalled(name)
	for _, tray := range trays {
		if f, ok := t.FigureOf(q, day, tray); ok {
			values, us = append(values, f.Value), append(us, f.ExpandedU())
		}
	}
	mean, _ := trayfigure.Together(q.Scale, values, us)
	return mean
}

// over returns a/b, which is missing where a or b is, or where b is 0.
func over(a, b reading.Number) reading.Number {
	if !(b > 0) {
		return reading.Missing
	}
	return arithmetic.Number(float64(a / b))
}
