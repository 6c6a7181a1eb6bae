package serve

import (
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// reviewed is a plan of two trays of twelve plugs, reviewed on days 7 and 14, and a server on the second of these.
func reviewed(t *testing.T) (*plan.Plan, *Server) {
	p := &plan.Plan{Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Zone: time.UTC, Tray: plan.TrayShape{Rows: 2, Columns: 6}, ReviewDays: []int{7, 14},
		Trays: []plan.Tray{{Number: 1, Treatment: "a"}, {Number: 2, Treatment: "a"}}, Treatments: []plan.Treatment{{Name: "a"}}}
	return p, &Server{o: Options{Dir: t.TempDir(), Now: func() time.Time { return p.DateOf(14).Add(9 * time.Hour) }}}
}

// leaves is a photo of a tray's leaves, each plug's area in mm² as given by its number; 0 is an empty one.
func leaves(p *plan.Plan, name string, tray, day int, area func(plug int) int) reading.Reading {
	r := reading.Reading{Photo: name, SHA256: name, Tray: tray, View: reading.Shoots, Taken: p.DateOf(day).Add(9 * time.Hour), TakenFrom: reading.FromPhoto}
	for i := range p.Tray.Rows * p.Tray.Columns {
		plug := reading.EmptyPlug(plan.PlugName(i/p.Tray.Columns, i%p.Tray.Columns))
		plug.State = reading.Empty
		if mm2 := area(i); mm2 > 0 {
			plug.State, plug.LeafAreaMM2 = reading.Planted, reading.Number(mm2)
		}
		r.Plugs = append(r.Plugs, plug)
	}
	return r
}

// A photo whose plants are gone since the last review gets that doubt on the phone, while the tray can still be photographed again, as it does in the report; and a photo's
// day is doubted once, by the question.
func TestDoubtsThatOtherPhotosRaise(t *testing.T) {
	p, s := reviewed(t)
	full := func(int) int { return 100 }
	last := leaves(p, "day-07/tray-01-shoots.jpg", 1, 7, full)
	now := leaves(p, "day-14/tray-01-shoots.jpg", 1, 14, func(plug int) int { return max(0, 5-plug) })
	v := s.judge(p, now, []reading.Reading{last, now}, asked{1, reading.Shoots})
	gone := func(r reason) bool { return strings.Contains(r.Words, "only 5 of 12 plants were found; day 7 had 12") }
	if v.Verdict != reading.VerdictDoubt || !slices.ContainsFunc(v.Reasons, gone) {
		t.Errorf("%s: %+v", v.Verdict, v.Reasons)
	}
	if v := s.judge(p, now, nil, asked{1, reading.Shoots}); v.Verdict != reading.VerdictGood {
		t.Errorf("alone: %s, %+v", v.Verdict, v.Reasons)
	}
	sent := leaves(p, "day-14/tray-01-shoots-0123456789ab.jpg", 1, 7, full) // of day 7 by its own date
	if v := s.judge(p, sent, nil, asked{1, reading.Shoots}); len(v.Questions) != 1 || v.Questions[0].About != "day" || len(v.Reasons) > 0 {
		t.Errorf("asked %+v, and reasons %+v", v.Questions, v.Reasons)
	}
}

// A photo of tray 1 shows plants that rank by size as those of tray 2 did: on the phone, where there is no --assign, it still reads what to do. Those from whom treatments
// are hidden read neither tray.
func TestARemedyForAnotherTraysPlants(t *testing.T) {
	p, s := reviewed(t)
	one, two := func(plug int) int { return 100 + plug }, func(plug int) int { return 100 + 5*plug%12 }
	now := leaves(p, "b.jpg", 1, 14, two)
	all := []reading.Reading{leaves(p, "1.jpg", 1, 7, one), leaves(p, "2.jpg", 2, 7, two), now}
	v := s.judge(p, now, all, asked{1, reading.Shoots})
	if len(v.Reasons) != 1 || !strings.Contains(v.Reasons[0].Words, "the ranking by size that tray 2 had") || !strings.HasPrefix(v.Reasons[0].Remedy, "look at both overlays") || strings.Contains(v.Reasons[0].Remedy, "--") {
		t.Errorf("%+v", v.Reasons)
	}
	if named := doubted(p, all, now); len(named.Concerns) != 1 || len(withoutTrays(named).Concerns) != 0 {
		t.Errorf("with treatments hidden: %+v", withoutTrays(named).Concerns)
	}
}
