package logbook

import (
	"slices"

	"traygauge/measure/plan"
)

// skipped is a planned feeding that the log has for most trays, and for some not.
type skipped struct {
	day   int   // the planned one
	trays []int // without a feeding, and without any other word about them
	line  int   // of the last feeding that the others had
}

// skippedFeedings returns the planned feedings that more than half of the trays had. A feeding counts for the planned day that it is nearest to.
// The log's last day is left out: it may not be over.
func skippedFeedings(p *plan.Plan, log []Entry) []skipped {
	last := -1
	named, fed, line := map[[2]int]bool{}, map[[2]int]bool{}, map[int]int{} // by planned day and tray
	for _, e := range log {
		day := p.DayOf(e.When)
		last = max(last, day)
		if len(p.FeedDays) == 0 || day < 0 {
			continue
		}
		near := nearest(p.FeedDays, day)
		for _, tray := range meant(p, e) {
			named[[2]int{near, tray}] = named[[2]int{near, tray}] || e.Tray > 0
			fed[[2]int{near, tray}] = fed[[2]int{near, tray}] || e.What == Feeding
		}
		if e.What == Feeding {
			line[near] = max(line[near], e.Line)
		}
	}
	var list []skipped
	for _, day := range p.FeedDays {
		s, had := skipped{day: day, line: line[day]}, 0
		for _, tray := range p.TrayNumbers() {
			switch on := [2]int{day, tray}; {
			case fed[on]:
				had++
			case !named[on]:
				s.trays = append(s.trays, tray)
			}
		}
		slices.Sort(s.trays)
		if day < last && len(s.trays) > 0 && 2*had > len(p.Trays) {
			list = append(list, s)
		}
	}
	return list
}
