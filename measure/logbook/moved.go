package logbook

import (
	"slices"
	"strings"

	"traygauge/measure/plan"
)

// Moved is a planned day's work that was done on another day.
type Moved struct {
	What    string   // Feeding or Review
	Planned int      // day since sowing
	Done    int      //
	Trays   []int    // those that were done on that day
	Why     []string // what the log notes for that day or for the planned one; none when nobody wrote it down
}

// Review is what Moved calls the photographing of all trays.
const Review = "review"

// Moves returns what was done on another day than planned, up to a day: feedings by the log, reviews by the days on which
// trays were photographed. Work counts for the planned day that it is nearest to, for the later of two as near.
func Moves(p *plan.Plan, upTo int, log []Entry, photographed map[int][]int) []Moved {
	fed := map[int][]int{}
	for _, e := range log {
		if day := p.DayOf(e.When); e.What == Feeding && day >= 0 && day <= upTo {
			fed[day] = append(fed[day], meant(p, e)...)
		}
	}
	moves := moved(p, Feeding, p.FeedDays, fed, log)
	seen := map[int][]int{}
	for day, trays := range photographed {
		if day >= 0 && day <= upTo {
			seen[day] = trays
		}
	}
	return append(moves, moved(p, Review, p.ReviewDays, seen, log)...)
}

// meant returns the trays that an entry is about.
func meant(p *plan.Plan, e Entry) []int {
	if e.Tray > 0 {
		return []int{e.Tray}
	}
	return p.TrayNumbers()
}

// moved finds the days of done that are none of the planned ones. A tray that was done on its planned day as well was given
// something more, which is no move.
func moved(p *plan.Plan, what string, planned []int, done map[int][]int, log []Entry) []Moved {
	var moves []Moved
	var days []int
	for day := range done {
		days = append(days, day)
	}
	slices.Sort(days)
	for _, day := range days {
		if len(planned) == 0 || slices.Contains(planned, day) {
			continue
		}
		near := nearest(planned, day)
		m := Moved{What: what, Planned: near, Done: day, Why: notes(p, log, near, day)}
		for _, tray := range done[day] {
			if !slices.Contains(done[near], tray) && !slices.Contains(m.Trays, tray) {
				m.Trays = append(m.Trays, tray)
			}
		}
		slices.Sort(m.Trays)
		if len(m.Trays) > 0 {
			moves = append(moves, m)
		}
	}
	return moves
}

// nearest returns the planned day that day is nearest to, the later of two.
func nearest(planned []int, day int) int {
	best := planned[0]
	for _, d := range planned {
		if away := max(d-day, day-d); away <= max(best-day, day-best) {
			best = d
		}
	}
	return best
}

// notes returns what the log says in words on the days from one to the other.
func notes(p *plan.Plan, log []Entry, a, b int) []string {
	var words []string
	for _, e := range log {
		day := p.DayOf(e.When)
		note := strings.TrimSpace(e.Note)
		if note != "" && day >= min(a, b) && day <= max(a, b) && !slices.Contains(words, note) {
			words = append(words, note)
		}
	}
	return words
}
