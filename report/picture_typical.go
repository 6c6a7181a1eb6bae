package report

import (
	"cmp"
	"math"
	"slices"

	"traygauge/measure"
)

// seen is a quantity by which a plug is typical in a view.
type seen struct {
	view, quantity string
	of             func(PlugRow) measure.Number
	median         func(TrayRow) measure.Number
}

var seenQuantities = []seen{
	{"roots", "root area", func(r PlugRow) measure.Number { return r.RootAreaMM2 }, func(r TrayRow) measure.Number { return r.RootAreaMM2.Median }},
	{"shoots", "leaf area", func(r PlugRow) measure.Number { return r.LeafAreaMM2 }, func(r TrayRow) measure.Number { return r.LeafAreaMM2.Median }},
}

// TypicalPlugs returns up to most plugs that stand for a treatment on a day in a view: from each of its trays those nearest to
// the tray's median in root area, or from above in leaf area, never the best. Where there are more trays than that, the trays
// whose medians are nearest to the middle one's stand for all. Plugs come by tray, and within it the nearest first.
func TypicalPlugs(t *Trial, treatment, view string, day, most int) []PlugRow {
	i := slices.IndexFunc(seenQuantities, func(s seen) bool { return s.view == view })
	if i < 0 || most < 1 {
		return nil
	}
	s := seenQuantities[i]
	trays := traysNearestMiddle(t, treatment, s, day)
	if len(trays) == 0 {
		return nil
	}
	trays = trays[:min(len(trays), most)]
	slices.SortFunc(trays, func(a, b TrayRow) int { return cmp.Compare(a.Tray, b.Tray) })
	var plugs []PlugRow
	for k, tray := range trays {
		each := most / len(trays)
		if k < most%len(trays) {
			each++
		}
		near := plugsNearestMedian(t, tray, s)
		plugs = append(plugs, near[:min(len(near), each)]...)
	}
	return plugs
}

// traysNearestMiddle returns a treatment's trays on a day, those first whose medians are nearest to the median of all of them.
func traysNearestMiddle(t *Trial, treatment string, s seen, day int) []TrayRow {
	var trays []TrayRow
	var medians []float64
	for _, r := range t.Trays {
		if m := s.median(r); r.Treatment == treatment && r.View == s.view && r.Day == day && !r.Taken.IsZero() && m.Known() {
			trays, medians = append(trays, r), append(medians, float64(m))
		}
	}
	middle := float64(Summarise(medians).Median)
	slices.SortStableFunc(trays, func(a, b TrayRow) int {
		return cmp.Compare(math.Abs(float64(s.median(a))-middle), math.Abs(float64(s.median(b))-middle))
	})
	return trays
}

// plugsNearestMedian returns the plugs behind a tray's row, the nearest to its median first.
func plugsNearestMedian(t *Trial, tray TrayRow, s seen) []PlugRow {
	var plugs []PlugRow
	for _, p := range t.Plugs {
		if p.Photo == tray.Photo && p.View == tray.View && p.State == measure.Planted && s.of(p).Known() {
			plugs = append(plugs, p)
		}
	}
	median := float64(s.median(tray))
	slices.SortStableFunc(plugs, func(a, b PlugRow) int {
		return cmp.Compare(math.Abs(float64(s.of(a))-median), math.Abs(float64(s.of(b))-median))
	})
	return plugs
}
