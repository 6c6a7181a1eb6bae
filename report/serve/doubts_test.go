package serve

import (
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// A photo whose plants are gone since the last review gets that doubt on the phone, while the tray can still be photographed again, as it does in the report; and a photo's
// day is doubted once, by the question.
func TestDoubtsThatOtherPhotosRaise(t *testing.T) {
	p := &plan.Plan{Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Zone: time.UTC, Tray: plan.TrayShape{Rows: 2, Columns: 3}, Trays: []plan.Tray{{Number: 1, Treatment: "a"}},
		Treatments: []plan.Treatment{{Name: "a"}}, ReviewDays: []int{7, 14}}
	photo := func(name string, day, planted int) reading.Reading {
		r := reading.Reading{Photo: name, SHA256: name, Tray: 1, View: reading.Shoots, Taken: p.DateOf(day).Add(9 * time.Hour), TakenFrom: reading.FromPhoto}
		for i := range 6 {
			plug := reading.EmptyPlug(plan.PlugName(i/3, i%3))
			if i < planted {
				plug.State, plug.LeafAreaMM2 = reading.Planted, 100
			} else {
				plug.State = reading.Empty
			}
			r.Plugs = append(r.Plugs, plug)
		}
		return r
	}
	last, now := photo("day-07/tray-01-shoots.jpg", 7, 6), photo("day-14/tray-01-shoots.jpg", 14, 2)
	s := &Server{o: Options{Dir: t.TempDir(), Now: func() time.Time { return now.Taken }}}
	v := s.judge(p, now, []reading.Reading{last, now}, asked{1, reading.Shoots})
	gone := func(r reason) bool { return strings.Contains(r.Words, "only 2 of 6 plants are there; day 7 had 6") }
	if v.Verdict != reading.VerdictDoubt || !slices.ContainsFunc(v.Reasons, gone) {
		t.Errorf("%s: %+v", v.Verdict, v.Reasons)
	}
	if v := s.judge(p, now, nil, asked{1, reading.Shoots}); v.Verdict != reading.VerdictGood {
		t.Errorf("alone: %s, %+v", v.Verdict, v.Reasons)
	}
	sent := photo("day-14/tray-01-shoots-0123456789ab.jpg", 7, 6) // of day 7 by its own date
	if v := s.judge(p, sent, nil, asked{1, reading.Shoots}); len(v.Questions) != 1 || v.Questions[0].About != "day" || len(v.Reasons) > 0 {
		t.Errorf("asked %+v, and reasons %+v", v.Questions, v.Reasons)
	}
	named := now
	named.Concerns = []reading.Concern{{Kind: reading.LooksLikeOther, Words: "as those of tray 4 did"}, {Kind: reading.PlantsGone}}
	if kept := withoutTrays(named).Concerns; len(kept) != 1 || kept[0].Kind != reading.PlantsGone {
		t.Errorf("with treatments hidden: %+v", kept)
	}
}

// A photo of tray 1 shows plants that rank by size as those of tray 2 did: on the phone, where there is no --assign, it still reads what to do.
func TestARemedyForAnotherTraysPlants(t *testing.T) {
	p := &plan.Plan{Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Zone: time.UTC, Tray: plan.TrayShape{Rows: 2, Columns: 6}, ReviewDays: []int{7, 14},
		Trays: []plan.Tray{{Number: 1, Treatment: "a"}, {Number: 2, Treatment: "a"}}, Treatments: []plan.Treatment{{Name: "a"}}}
	photo := func(name string, tray, day int, size func(plug int) int) reading.Reading {
		r := reading.Reading{Photo: name, SHA256: name, Tray: tray, View: reading.Shoots, Taken: p.DateOf(day).Add(9 * time.Hour), TakenFrom: reading.FromPhoto}
		for i := range 12 {
			plug := reading.EmptyPlug(plan.PlugName(i/6, i%6))
			plug.State, plug.LeafAreaMM2 = reading.Planted, reading.Number(100+size(i))
			r.Plugs = append(r.Plugs, plug)
		}
		return r
	}
	one, two := func(i int) int { return i }, func(i int) int { return 5 * i % 12 }
	now := photo("b.jpg", 1, 14, two)
	s := &Server{o: Options{Dir: t.TempDir(), Now: func() time.Time { return now.Taken }}}
	v := s.judge(p, now, []reading.Reading{photo("1.jpg", 1, 7, one), photo("2.jpg", 2, 7, two), now}, asked{1, reading.Shoots})
	if len(v.Reasons) != 1 || !strings.Contains(v.Reasons[0].Words, "those of tray 2 did") || !strings.HasPrefix(v.Reasons[0].Remedy, "look at both overlays") || strings.Contains(v.Reasons[0].Remedy, "--") {
		t.Errorf("%+v", v.Reasons)
	}
}
