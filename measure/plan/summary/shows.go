package summary

import (
	"slices"

	"traygauge/measure/compare/planning"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Places says whether the places were drawn by lot.
type Places struct {
	Given int `json:"given"`          // trays with a place
	Seed  int `json:"seed,omitempty"` // absent when nothing says how they were drawn
}

// Shows is what the trial can show with trays and plugs that vary so much.
type Shows struct {
	Variation planning.Variation `json:"variation"`
	Of        []planning.Shows   `json:"of"`
}

// design calculates what the trial can show.
func (s *Plan) design(p *plan.Plan, variations []planning.Variation) {
	s.Places.Seed = p.PlacesSeed
	for _, t := range p.Trays {
		if t.Position > 0 {
			s.Places.Given++
		}
	}
	s.Shows = []Shows{}
	for _, v := range variations {
		s.Shows = append(s.Shows, Shows{v, planning.WhatPlanShows(p, v)})
	}
}

// Moved is work that was done on another day than planned.
type Moved struct {
	What    string   `json:"what"`
	Planned int      `json:"planned_day"`
	Done    int      `json:"done_day"`
	Trays   []int    `json:"trays"`
	Why     []string `json:"why"`
}

// photoDays tells which trays were photographed on which days, from the readings; none when nothing was measured yet.
func photoDays(p *plan.Plan, dir string) map[int][]int {
	readings, _ := reading.LoadReadings(dir) // a broken one is reported where readings are used
	days := map[int][]int{}
	for _, r := range readings {
		if day := p.DayOf(r.Taken); r.Tray > 0 && !r.Taken.IsZero() && !slices.Contains(days[day], r.Tray) {
			days[day] = append(days[day], r.Tray)
		}
	}
	return days
}

func (s *Plan) moves(p *plan.Plan, day int, log []logbook.Entry, photographed map[int][]int) {
	s.Moved = []Moved{}
	for _, m := range logbook.Moves(p, day, log, photographed) {
		s.Moved = append(s.Moved, Moved{m.What, m.Planned, m.Done, m.Trays, append([]string{}, m.Why...)})
	}
}
