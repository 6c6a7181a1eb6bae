package report

import (
	"time"

	"traygauge/measure/plan"
)

// FileDate returns the date that a file has instead of the time of writing, so that the same plan gives the same bytes.
func FileDate(p *plan.Plan) time.Time {
	if p.Sown.IsZero() {
		return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return p.Sown.UTC()
}
