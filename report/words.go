package report

import (
	"time"

	"traygauge/measure/compare/outcome"
)

// Answered reports whether a comparison is one of those that the answer is made of.
func Answered(r *outcome.Result, c outcome.Comparison) bool {
	return c.Day == r.Answer.Day && c.Quantity == r.Answer.Quantity
}

// ToTheDay is the first moment of a time's day.
func ToTheDay(t time.Time, zone *time.Location) time.Time {
	if zone == nil {
		zone = time.UTC
	}
	y, m, d := t.In(zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, zone)
}
