package html

import (
	"cmp"
	"math"
	"slices"

	"traygauge/measure/reading"
	"traygauge/report"
)

// seen is what is shown of a view: the quantity by which its plugs are typical.
type seen struct {
	view, words, quantity string
	u                     func(report.PlugRow) reading.Number
	median                func(report.TrayRow) reading.Number
}

var seenViews = []seen{
	{"roots", "plug bottoms, from below", "root area", func(r report.PlugRow) reading.Number { return r.RootAreaUMM2 },
		func(r report.TrayRow) reading.Number { return r.RootAreaMM2.Median }},
	{"shoots", "leaves, from above", "leaf area", func(r report.PlugRow) reading.Number { return r.LeafAreaUMM2 },
		func(r report.TrayRow) reading.Number { return r.LeafAreaMM2.Median }},
}

// typicalOf returns up to most plugs that stand for a treatment on a day in a view, as Trial.Typical chooses them from each of its
// trays. Where there are more trays than that, those whose medians are nearest to the middle one's stand for all; never the best.
// Plugs come by tray, and within it the nearest to the median first.
func typicalOf(t *report.Trial, treatment string, s seen, day, most int) []report.PlugRow {
	trays := traysNearestMiddle(t, treatment, s, day)
	trays = trays[:min(len(trays), most)]
	slices.Sort(trays)
	var plugs []report.PlugRow
	for k, tray := range trays {
		each := most / len(trays)
		if k < most%len(trays) {
			each++
		}
		plugs = append(plugs, t.Typical(tray, day, s.view, each)...)
	}
	return plugs
}

// traysNearestMiddle returns the numbers of a treatment's trays, those first whose medians are nearest to the median of all of them.
func traysNearestMiddle(t *report.Trial, treatment string, s seen, day int) []int {
	var rows []report.TrayRow
	var medians []float64
	for _, r := range t.Trays {
		if m := s.median(r); r.Treatment == treatment && r.View == s.view && r.Day == day && !r.Taken.IsZero() && m.Known() {
			rows, medians = append(rows, r), append(medians, float64(m))
		}
	}
	middle := float64(report.Summarise(medians).Median)
	slices.SortStableFunc(rows, func(a, b report.TrayRow) int {
		return cmp.Compare(math.Abs(float64(s.median(a))-middle), math.Abs(float64(s.median(b))-middle))
	})
	var trays []int
	for _, r := range rows {
		trays = append(trays, r.Tray)
	}
	return trays
}
