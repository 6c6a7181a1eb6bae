package logbook

import (
	"fmt"
	"testing"
	"time"

	"traygauge/measure/finding"
	"traygauge/measure/plan"
)

// sown returns a plan sown on 2 March 2026.
func sown() *plan.Plan {
	return &plan.Plan{Zone: time.UTC, Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)}
}

// list puts findings one a line.
func list(findings []finding.Finding) (lines string) {
	for _, f := range findings {
		lines += f.String() + "\n"
	}
	return lines
}

func TestDue(t *testing.T) {
	p := sown()
	p.Trays = []plan.Tray{{Number: 1}, {Number: 2}}
	p.FeedDays, p.ReviewDays = []int{7, 14}, []int{7, 21}
	fed := func(day, tray int) Entry {
		return Entry{When: p.DateOf(day).Add(9 * time.Hour), Tray: tray, What: Feeding}
	}
	for _, c := range []struct {
		day  int
		log  []Entry
		want string // trays, days late, review, next feeding, next review
	}{
		{0, nil, "[] 0 false 7 7"},
		{7, nil, "[1 2] 0 true 14 21"},
		{7, []Entry{fed(7, 1)}, "[2] 0 true 14 21"},
		{7, []Entry{fed(7, 0)}, "[] 0 true 14 21"},                // no number: all trays
		{7, []Entry{fed(6, 1), fed(2, 2)}, "[2] 0 true 14 21"},    // from day 4 on it counts for day 7
		{9, []Entry{fed(8, 1)}, "[2] 2 false 14 21"},              // a day late is fed too
		{14, []Entry{fed(7, 0), fed(11, 2)}, "[1] 0 false -1 21"}, // from day 11 on it counts for day 14
		{9, []Entry{fed(10, 0)}, "[1 2] 2 false 14 21"},           // not fed yet on that day
		{9, []Entry{{When: p.DateOf(8), What: "water"}}, "[1 2] 2 false 14 21"},
		{30, []Entry{fed(14, 0)}, "[] 0 false -1 -1"},
	} {
		d := DueOn(p, c.day, c.log)
		if got := fmt.Sprint(d.Feed, d.Late(), d.Review, d.NextFeed, d.NextReview); got != c.want {
			t.Errorf("day %d, log %v: %s, want %s", c.day, c.log, got, c.want)
		}
	}
}
