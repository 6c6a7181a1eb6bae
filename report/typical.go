package report

import (
	"cmp"
	"math"
	"slices"
	"traygauge/measure/reading"
)

// SizeOf is the quantity by which a plug is typical of its tray: root area from below, leaf area from above.
func SizeOf(p PlugRow) reading.Number {
	if p.View == "roots" {
		return p.RootAreaMM2
	}
	return p.LeafAreaMM2
}

// Typical returns up to n plugs of a tray that stand for it on a day in a view ("roots" or "shoots"): those whose root area, or
// leaf area, is nearest the median of the tray's plugs, the nearest first; never the best ones. Plugs that do not count in the
// tray's median are not among them, nor are those whose place in the photo is not known. Of two as near, the first in reading
// order goes first.
func (t *Trial) Typical(tray, day int, view string, n int) []PlugRow {
	var plugs []PlugRow
	var sizes []float64
	for _, p := range t.Plugs {
		if p.Tray == tray && p.Day == day && p.View == view && p.Counts() {
			plugs = append(plugs, p)
			sizes = append(sizes, float64(SizeOf(p)))
		}
	}
	median := float64(Summarise(sizes).Median)
	plugs = slices.DeleteFunc(plugs, func(p PlugRow) bool { return p.Place == nil })
	slices.SortStableFunc(plugs, func(a, b PlugRow) int {
		return cmp.Compare(math.Abs(float64(SizeOf(a))-median), math.Abs(float64(SizeOf(b))-median))
	})
	return plugs[:min(n, len(plugs))]
}

// Counts reports whether a plug goes into its tray's row: planted, measured, dated, and in the photo that is used.
func (r PlugRow) Counts() bool {
	return r.State == reading.Planted && SizeOf(r).Known() && !r.Taken.IsZero() && !slices.Contains(r.Flags, SparePhoto) && !slices.Contains(r.Flags, NoPlant)
}
