package html

import (
	"fmt"
	"slices"
	"strconv"

	"traygauge/measure/logbook"
)

// event is something that the log notes, for a day's mark in the drawings over the days.
type event struct {
	Mark string // its number in the drawings; "" for a feeding, and for what comes after mostEvents
	Day  int
	Tray int    // 0: all trays
	Says string // in public without the log's own words
	fed  bool
	told bool // it has words of its own, so that of a single tray it is taken for an accident
}

// Whom says which trays an event is about.
func (e event) Whom() string {
	if e.Tray == 0 {
		return "all trays"
	}
	return fmt.Sprintf("tray %d", e.Tray)
}

// mostEvents is how many events beside feedings are marked and listed.
const mostEvents = 20

// eventsOf lists what the log notes by day: feedings, once a tray and day, and everything else with a number.
func eventsOf(p Page) []event {
	var events []event
	n := 0
	log := slices.Clone(p.Log)
	slices.SortStableFunc(log, func(a, b logbook.Entry) int { return a.When.Compare(b.When) })
	departures := logbook.Departures(p.Trial.Plan, log, p.Public)
	note := func(at event) {
		if n++; n <= mostEvents {
			at.Mark = strconv.Itoa(n)
		}
		events = append(events, at)
	}
	for _, e := range log {
		at := event{Day: p.Trial.Plan.DayOf(e.When), Tray: e.Tray, fed: e.What == logbook.Feeding}
		if !at.fed {
			at.told = e.Note != ""
			if at.Says = eventWords(e, p.Public); at.Says != "" {
				note(at)
			}
			continue
		}
		if !slices.Contains(events, at) {
			events = append(events, at)
		}
		for len(departures) > 0 && departures[0].Of(e) {
			note(event{Day: at.Day, Tray: at.Tray, Says: departures[0].Words, told: true})
			departures = departures[1:]
		}
	}
	return events
}

// eventWords is what is said of an entry; in public its words are left out, and that there was something is said.
func eventWords(e logbook.Entry, public bool) string {
	kind := map[string]string{logbook.Lamp: "lamp", logbook.Water: "watering"}[e.What]
	switch {
	case !public && e.Note != "" && kind != "":
		return kind + ": " + e.Note
	case !public && e.Note != "":
		return e.Note
	case !public:
		return e.What
	case e.Tray != 0 && e.Note != "":
		return "something happened to it that was not part of the treatment (log entry not shown)"
	case kind != "":
		return kind + " (log entry not shown)"
	}
	return "a note (not shown)"
}
