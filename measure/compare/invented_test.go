package compare

import (
	"fmt"
	"time"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// sown is day 0 of the invented trials.
var sown = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// treatment makes a treatment that gets the named products at 1 mL/L.
func treatment(name string, compareWith []string, products ...string) plan.Treatment {
	t := plan.Treatment{Name: name, CompareWith: compareWith}
	for _, p := range products {
		t.Gets = append(t.Gets, plan.Dose{Product: p, MLPerL: 1})
	}
	return t
}

// trialOf makes a plan of treatments whose trays are numbered one treatment after the other, so many of each.
func trialOf(trays []int, treatments ...plan.Treatment) *plan.Plan {
	p := &plan.Plan{Title: "Kale, spring", Crop: "kale", Sown: sown, Zone: time.UTC, Treatments: treatments}
	for i, n := range trays {
		for range n {
			p.Trays = append(p.Trays, plan.Tray{Number: len(p.Trays) + 1, Treatment: treatments[i].Name})
		}
	}
	return p
}

// twoTreatments is a trial of a feed against water only.
func twoTreatments(waterTrays, feedTrays int) *plan.Plan {
	return trialOf([]int{waterTrays, feedTrays}, treatment("water only", nil), treatment("feed", []string{"water only"}, "feed"))
}

// noPlug has every quantity missing.
func noPlug(name string, state reading.State) reading.Plug {
	m := reading.Missing
	return reading.Plug{Name: name, State: state, RootAreaMM2: m, RootAreaUMM2: m, RootCoverPct: m, RootLengthMM: m,
		RootBrowningPct: m, PlugAreaMM2: m, LeafAreaMM2: m, LeafAreaUMM2: m, ChloroticPct: m, LeafHueDeg: m, DGCI: m}
}

func plugName(i int) string { return plan.PlugName(i/10, i%10) }

// photo is a reading of a tray on a day in a view.
func photo(tray, day int, view reading.View, plugs ...reading.Plug) reading.Reading {
	name := fmt.Sprintf("day-%d/tray-%d-%s.jpg", day, tray, view)
	return reading.Reading{Photo: name, SHA256: name, Taken: sown.AddDate(0, 0, day).Add(9 * time.Hour), TakenFrom: "photo", Tray: tray, View: view,
		CanopyCoverPct: reading.Missing, Plugs: plugs}
}

// roots is a photo from below with these root areas in mm².
func roots(tray, day int, areas ...float64) reading.Reading {
	plugs := make([]reading.Plug, len(areas))
	for i, a := range areas {
		plugs[i] = noPlug(plugName(i), reading.Planted)
		plugs[i].RootAreaMM2 = reading.Number(a)
	}
	return photo(tray, day, "roots", plugs...)
}

// leaves is a photo from above with these leaf areas in mm², none of them yellow.
func leaves(tray, day int, areas ...float64) reading.Reading {
	plugs := make([]reading.Plug, len(areas))
	for i, a := range areas {
		plugs[i] = noPlug(plugName(i), reading.Planted)
		plugs[i].LeafAreaMM2, plugs[i].ChloroticPct = reading.Number(a), 0
	}
	return photo(tray, day, "shoots", plugs...)
}

// find returns the only comparison of that kind, or fails by panicking, which a test shows with its line.
func find(r *outcome.Result, kind outcome.Kind, quantity, treatment, control string, day int) outcome.Comparison {
	var found []outcome.Comparison
	for _, c := range r.Comparisons {
		if c.Kind == kind && c.Quantity == quantity && c.Treatment == treatment && c.Control == control && c.Day == day {
			found = append(found, c)
		}
	}
	if len(found) != 1 {
		panic(fmt.Sprintf("%d comparisons (%s) of %s: %s against %s on day %d", len(found), kind, quantity, treatment, control, day))
	}
	return found[0]
}
