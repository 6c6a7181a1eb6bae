package compare

import (
	"slices"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
)

// What neighbours' leaves hide is a plant whose leaf was given to them: 100 + 300 mm² in view of two plants, of three in all, are
// 133.3 mm² a plant. A plug that was empty the last time it was in view is no plant, and no zero either.
func TestLeavesOverAPlantAreSharedWithIt(t *testing.T) {
	under := func(name string) reading.Plug {
		p := noPlug(name, reading.Hidden)
		p.Flags = []string{"under neighbours"}
		return p
	}
	before := leaves(1, 7, 10, 20, 30)
	before.Plugs = append(before.Plugs, noPlug("A4", reading.Empty))
	now := leaves(1, 14, 100, 300)
	now.Plugs = append(now.Plugs, under("A3"), under("A4"))
	below := roots(1, 14, 10, 20, 30, 0)
	list := trayfigure.TrayDays(twoTreatments(1, 1), []reading.Reading{before, now, below})
	i := slices.IndexFunc(list, func(d trayfigure.TrayDay) bool { return d.Day == 14 })
	d := list[i]
	near(t, "leaf area a plant", d.Amounts[outcome.LeafArea].Value, 400.0/3, 1e-12)
	near(t, "root area a plant", d.Amounts[outcome.RootArea].Value, 20, 1e-12)
	if d.Plants != 3 || d.Plugs != 3 || d.Amounts[outcome.LeafArea].Plugs != 3 || !d.NoPlant("A4") || d.NoPlant("A3") {
		t.Errorf("%d of %d plugs hold a plant: %+v", d.Plants, d.Plugs, d.Amounts[outcome.LeafArea])
	}
	// Leaf area grew from 20 to 133.3 mm² a plant in seven days: 100·ln(6.6667)/7 = 27.102 % a day. The two plants in view on both
	// days alone would give ln(200/15), which counts their neighbour's leaf as theirs.
	near(t, "leaf growth", d.Amounts[outcome.LeafGrowth].Value, 27.102, 1e-4)
}
