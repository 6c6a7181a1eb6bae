package plugs

import (
	"cmp"
	"math"
	"slices"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
)

// Side is what is shown of a view: the quantity by which its plugs are typical.
type Side struct {
	View            reading.View
	Words, Quantity string
	u               func(report.PlugRow) reading.Number
	median          func(report.TrayRow) reading.Number
}

var sides = []Side{
	{reading.Roots, "plug bottoms, from below", outcome.RootArea, func(r report.PlugRow) reading.Number { return r.RootAreaUMM2 },
		func(r report.TrayRow) reading.Number { return r.RootAreaMM2.Median }},
	{reading.Shoots, "leaves, from above", outcome.LeafArea, func(r report.PlugRow) reading.Number { return r.LeafAreaUMM2 },
		func(r report.TrayRow) reading.Number { return r.LeafAreaMM2.Median }},
}

// SideOf returns the side of a plug that a view shows.
func SideOf(view reading.View) Side {
	if view == reading.Shoots {
		return sides[1]
	}
	return sides[0]
}

// Typical returns up to most plugs that stand for a treatment on a day in a view, as Trial.Typical chooses them from each of its
// trays. Where there are more trays than that, those whose medians are nearest to the middle one's stand for all; never the best.
// Plugs come by tray, and within it the nearest to the median first.
func Typical(t *report.Trial, treatment string, s Side, day, most int) []report.PlugRow {
	trays := traysNearestMiddle(t, treatment, s, day)
	trays = trays[:min(len(trays), most)]
	slices.Sort(trays)
	var plugs []report.PlugRow
	for k, tray := range trays {
		each := most / len(trays)
		if k < most%len(trays) {
			each++
		}
		plugs = append(plugs, t.Typical(tray, day, s.View, each)...)
	}
	return plugs
}

// traysNearestMiddle returns the numbers of a treatment's trays, those first whose medians are nearest to the median of all of them.
func traysNearestMiddle(t *report.Trial, treatment string, s Side, day int) []int {
	var rows []report.TrayRow
	var medians []float64
	for _, r := range t.Trays {
		if m := s.median(r); r.Treatment == treatment && r.View == s.View && r.Day == day && !r.Taken.IsZero() && m.Known() {
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

// Value is a plug's area in mm² with its error bar.
func (s Side) Value(p report.PlugRow) string {
	return table.WithU(report.SizeOf(p), s.u(p))
}

// Median is the median area of the plugs in a photo, in mm².
func (s Side) Median(t *report.Trial, of report.Shot) reading.Number {
	for _, r := range t.Trays {
		if r.Photo == of.Photo && r.View == of.View {
			return s.median(r)
		}
	}
	return reading.Missing
}
