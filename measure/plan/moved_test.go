package plan

import (
	"reflect"
	"testing"
	"time"
)

// The template feeds on days 7, 10, 14, 17 and 21 and reviews on 7, 14 and 21.
func TestMoves(t *testing.T) {
	p := templatePlan(t)
	entry := func(day, tray int, what, note string) Entry {
		return Entry{When: p.DateOf(day).Add(9 * time.Hour), Tray: tray, What: what, Note: note}
	}
	log := []Entry{
		entry(7, 0, Feeding, ""),
		entry(11, 3, Feeding, ""), // one tray a day late, the others as planned
		entry(10, 1, Feeding, ""), entry(10, 2, Feeding, ""),
		entry(15, 0, "note", "plants were slow"), entry(16, 0, Feeding, ""), // the 14th or the 17th: nearer to the 17th
		entry(21, 0, Feeding, ""), entry(22, 5, Feeding, "dry corner"), // given something more: no move
	}
	seen := map[int][]int{7: {1, 2}, 13: {1, 2}}
	want := []Moved{
		{"feeding", 10, 11, []int{3}, nil},
		{"feeding", 17, 16, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, nil},
		{"review", 14, 13, []int{1, 2}, nil},
	}
	if got := p.Moves(30, log, seen); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	// Why stands in the log on one of the days or between.
	log = []Entry{entry(18, 0, "note", "fed a day late"), entry(18, 0, Feeding, "")}
	if got := p.Moves(30, log, nil); len(got) != 1 || !reflect.DeepEqual(got[0].Why, []string{"fed a day late"}) {
		t.Errorf("%+v", got)
	}
	// What has not come yet is not moved, and without planned days nothing is.
	if got := p.Moves(17, log, nil); got != nil {
		t.Errorf("%+v", got)
	}
	p.FeedDays, p.ReviewDays = nil, nil
	if got := p.Moves(30, log, seen); got != nil {
		t.Errorf("%+v", got)
	}
}

// Two trays of 1500 mL a treatment on five feeding days; seaweed extract 7.5 mL/gal = 1.98129 mL/L:
// 1.98129·3 L = 5.9439 mL for seaweed a day, and again for seaweed + sugar; 5·2·5.9439 = 59.439 mL.
func TestFeedingPlan(t *testing.T) {
	p := templatePlan(t)
	plan := p.FeedingPlan()
	if len(plan) != 1 || !reflect.DeepEqual(plan[0].Days, []int{7, 10, 14, 17, 21}) || len(plan[0].Mixes) != 5 {
		t.Fatalf("%+v", plan)
	}
	if m := plan[0].Mixes[3]; m.Treatment != "seaweed" || m.Trays != 2 || m.TotalML != 3000 || len(m.Doses) != 2 {
		t.Errorf("%+v", m)
	}
	totals := p.ProductTotals()
	want := map[string]float64{"base feed": 5 * 4 * 2 * 3, "cane sugar": 5 * 2 * 1 * 3, "seaweed extract": 59.439}
	if len(totals) != 3 {
		t.Errorf("%+v", totals)
	}
	for _, total := range totals {
		if d := total.ML - want[total.Product]; d > 0.001 || d < -0.001 {
			t.Errorf("%s: %v mL, want %v", total.Product, total.ML, want[total.Product])
		}
	}
	// A dose that changes parts the days; no volume gives no totals.
	p.Treatment("seaweed").Gets = append(p.Treatment("seaweed").Gets, Dose{Product: "seaweed extract", MLPerL: 1, FromDay: 14})
	p.Volume.MLPerTray = 0
	if plan := p.FeedingPlan(); len(plan) != 2 || !reflect.DeepEqual(plan[1].Days, []int{14, 17, 21}) || plan[0].Mixes[0].TotalML != 0 {
		t.Errorf("%+v", plan)
	}
	if p.ProductTotals() != nil {
		t.Error("totals without a volume")
	}
}
