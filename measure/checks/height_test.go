package checks_test

import (
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A photo of a day after the last that the plan has a leaf height for is doubted; between two days it is not, and the height is between theirs.
// Leaves that by the plan reach up to the camera, 480 mm above the card, are refused instead of measured a hundredth of their size.
func TestTheLeavesHeightMustFitTheDayAndTheCamera(t *testing.T) {
	s := testtray.Small(card.Shoots)
	s.LeafHeight = 20
	p := testtray.Plan(s.Tray, 10)
	day := func(day int, heights map[int]float64) reading.Reading {
		p.Tray.LeafHeightMMDays = heights
		p.Sown = time.Time{}.AddDate(0, 0, -day) // the photos carry no date
		r := measured(t, s, p, true)
		return r
	}
	between := day(25, map[int]float64{21: 10, 29: 30}) // 20, as drawn
	if between.Verdict() != reading.VerdictGood || len(between.Plugs) == 0 {
		t.Errorf("between two days: %s %+v", between.Verdict(), between.Concerns)
	}
	after := day(30, map[int]float64{21: 10, 29: 20})
	if c := testtray.Concern(after, "leaf height not in plan"); after.Verdict() != reading.VerdictDoubt || !strings.Contains(c.Words, "20 mm") || !strings.Contains(c.Remedy, "add day 30") || c.Bias == "" {
		t.Errorf("after the last: %s %+v", after.Verdict(), after.Concerns)
	}
	for i := range between.Plugs {
		if between.Plugs[i].LeafAreaMM2 != after.Plugs[i].LeafAreaMM2 {
			t.Fatalf("at 20 mm both: %g and %g mm²", between.Plugs[i].LeafAreaMM2, after.Plugs[i].LeafAreaMM2)
		}
	}
	high := day(29, map[int]float64{29: 450})
	if c := testtray.Concern(high, "leaf height"); high.Verdict() != reading.VerdictRetake || len(high.Plugs) > 0 || !strings.Contains(c.Words, "450 mm") || !strings.Contains(c.Remedy, plan.FileName) {
		t.Errorf("at the camera: %s, %d plugs, %+v", high.Verdict(), len(high.Plugs), high.Concerns)
	}
}
