package logbook

import (
	"reflect"
	"testing"
	"time"

	"traygauge/measure/plan"
)

// The template feeds on days 7, 10, 14, 17 and 21 and reviews on 7, 14 and 21.
func TestMoves(t *testing.T) {
	p, _, err := plan.Parse(plan.Template("A trial", time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)), plan.FileName)
	if err != nil {
		t.Fatal(err)
	}
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
	if got := Moves(p, 30, log, seen); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	// Why stands in the log on one of the days or between.
	log = []Entry{entry(18, 0, "note", "fed a day late"), entry(18, 0, Feeding, "")}
	if got := Moves(p, 30, log, nil); len(got) != 1 || !reflect.DeepEqual(got[0].Why, []string{"fed a day late"}) {
		t.Errorf("%+v", got)
	}
	// What has not come yet is not moved, and without planned days nothing is.
	if got := Moves(p, 17, log, nil); got != nil {
		t.Errorf("%+v", got)
	}
	p.FeedDays, p.ReviewDays = nil, nil
	if got := Moves(p, 30, log, seen); got != nil {
		t.Errorf("%+v", got)
	}
}
