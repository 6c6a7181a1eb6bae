package html

import (
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Missing plants are named beside every tray's condition, also where it has no control or cannot be classified.
func TestMissingPlantsAreNamedBesideTheCondition(t *testing.T) {
	const gaps = "23 of 50 plugs have a plant"
	m := reading.Missing
	tray := outcome.TrayGrowth{Tray: 1, RootRatio: m, LeafRatio: m, ChloroticPct: m, ChloroticOff: m, BrowningPct: m, BrowningOff: m, Plants: 23, Plugs: 50}
	alone, unclassified, classified := tray, tray, tray
	alone.Why = "not compared with another treatment"
	unclassified.Control = "water"
	unclassified.Sort()
	classified.Control, classified.RootRatio, classified.LeafRatio, classified.ChloroticOff = "water", 1, 1, 0
	classified.Sort()
	rows := colourRows(&outcome.Result{Trays: []outcome.TrayGrowth{alone, unclassified, classified}})
	for i, want := range []colourRow{{Says: "not compared with another treatment", Why: gaps},
		{Says: "not classified", Why: "the leaves of the tray or of its control were not measured on that day, " + gaps}, {Says: string(outcome.WellGreen), Why: gaps}} {
		if rows[i].Says != want.Says || rows[i].Why != want.Why {
			t.Errorf("%q (%s), want %q (%s)", rows[i].Says, rows[i].Why, want.Says, want.Why)
		}
	}
}
