package logbook

import (
	"slices"

	"traygauge/measure/plan"
)

// Due is what has to be done on one day.
type Due struct {
	Day        int
	FeedDay    int   // the planned feeding day that Feed is about; -1 when none has come yet
	Feed       []int // trays to be fed: their last planned feeding is not in the log
	Review     bool  // every tray is photographed from above and from below
	NextFeed   int   // the next planned days after this one; -1 when there is none
	NextReview int
}

// Late returns by how many days the feeding is overdue; 0 when it is due on this very day or not at all.
func (d Due) Late() int {
	if len(d.Feed) == 0 {
		return 0
	}
	return d.Day - d.FeedDay
}

// DueOn returns what is due on a day since sowing. Trays are fed when plants need it, so a feeding in the log counts for a
// planned day from half-way since the planned day before it, or since sowing; one that was skipped altogether is overtaken by the next.
func DueOn(p *plan.Plan, day int, log []Entry) Due {
	d := Due{Day: day, FeedDay: -1, NextFeed: next(p.FeedDays, day), NextReview: next(p.ReviewDays, day)}
	d.Review = slices.Contains(p.ReviewDays, day)
	from, before := 0, 0
	for _, f := range p.FeedDays {
		if f > day {
			break
		}
		d.FeedDay, from, before = f, (before+f+1)/2, f
	}
	if d.FeedDay < 0 {
		return d
	}
	for _, t := range p.Trays {
		fed := slices.ContainsFunc(log, func(e Entry) bool {
			on := p.DayOf(e.When)
			return e.What == Feeding && (e.Tray == 0 || e.Tray == t.Number) && on >= from && on <= day
		})
		if !fed {
			d.Feed = append(d.Feed, t.Number)
		}
	}
	return d
}

// next returns the first of days, which are in order, that comes after day, or -1.
func next(days []int, day int) int {
	for _, d := range days {
		if d > day {
			return d
		}
	}
	return -1
}
