package compare

import (
	"slices"

	"traygauge/measure"
	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/trayfigure"
)

// growing sorts a day's trays by growth and colour, each beside the first of its controls that was measured that day.
func (t *trial) growing(day int) []TrayGrowth {
	list := []TrayGrowth{}
	for _, treatment := range t.Plan.Treatments {
		numbers := t.Plan.TraysOf(treatment.Name)
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
	_, roots := t.Photos[trayfigure.Occasion{Day: day, Tray: tray, View: "roots"}]
	_, shoots := t.Photos[trayfigure.Occasion{Day: day, Tray: tray, View: "shoots"}]
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
		beside := t.Plan.TraysOf(control)
		g.Control = control
		g.RootRatio = over(own(RootArea), t.meanOver(RootArea, day, beside))
		g.LeafRatio = over(own(LeafArea), t.meanOver(LeafArea, day, beside))
		g.ChloroticOff = g.ChloroticPct - t.meanOver(Chlorotic, day, beside)
		g.BrowningOff = g.BrowningPct - t.meanOver(RootBrowning, day, beside)
		if g.LeafRatio.Known() && g.ChloroticOff.Known() {
			break
		}
	}
	g.Sort()
	return g
}

// meanOver returns the mean of a quantity over trays on a day, each tray counting alike.
func (t *trial) meanOver(name string, day int, trays []int) measure.Number {
	var values []float64
	for _, tray := range trays {
		if f, ok := t.FigureOf(trayfigure.QuantityCalled(name), day, tray); ok {
			values = append(values, f.Value)
		}
	}
	return arithmetic.Number(arithmetic.Mean(values))
}

// over divides; by 0 or by nothing gives nothing.
func over(a, b measure.Number) measure.Number {
	if !(b > 0) {
		return measure.Missing
	}
	return arithmetic.Number(float64(a / b))
}
