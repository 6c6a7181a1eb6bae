package serve

import (
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
	"traygauge/report/testtrial"
)

// A verdict's figures are those of the report: plugs that show no plant from above are in no mean of the roots, a control of several trays has the
// mean that it is compared by, and figures are written to the place that their error bar reaches.
func TestVerdictAndReportAgree(t *testing.T) {
	p := testtrial.Plan()
	p.Trays = append(p.Trays, plan.Tray{Number: 2, Treatment: "water only", Position: 4})
	feed := p.Treatments[1]
	control := feed.CompareWith[0]
	own := p.TraysOf(feed.Name)[0]
	roots := func(tray int, areas ...float64) reading.Reading {
		var plugs []reading.Plug
		for i, a := range areas {
			g := testtrial.RootPlug([]string{"A1", "A2", "A3"}[i], a, 2)
			g.RootAreaUMM2 = reading.Number(a / 10)
			plugs = append(plugs, g)
		}
		return testtrial.Reading("roots.jpg", tray, reading.Roots, testtrial.Taken(10, 9, tray), plugs...)
	}
	leaves := testtrial.Reading("leaves.jpg", own, reading.Shoots, testtrial.Taken(10, 10, own),
		testtrial.LeafPlug("A1", 900, 0), testtrial.LeafPlug("A2", 950, 0), testtrial.NoPlug("A3", reading.Empty))
	all := []reading.Reading{roots(own, 120, 100, 2), leaves}
	for i, tray := range p.TraysOf(control) {
		all = append(all, roots(tray, float64(40*(i+1)), float64(40*(i+1)), float64(40*(i+1))))
	}
	// Where a day's leaves were not photographed, another day's say which plugs have a plant.
	earlier := roots(own, 60, 50, 1)
	earlier.Taken = testtrial.Taken(8, 9, own)
	got, _ := figuresOf(p, earlier, append(all, earlier))
	for _, d := range report.Collect(p, append(all, earlier)).Days {
		if a := d.Amounts[outcome.RootArea]; d.Tray == own && d.Day == 8 && (a.Value != 55 || got[0].Words != table.WithU(a.Value, a.U)) { // the mean of 60 and 50
			t.Errorf("without a photo of the leaves the verdict has %+v, the report %+v", got[0], a)
		}
	}
	got, _ = figuresOf(p, all[0], all)
	for _, d := range report.Collect(p, all).Days {
		if a := d.Amounts[outcome.RootArea]; d.Tray == own && (got[0].Value != 110 || a.Value != 110 || got[0].Words != table.WithU(a.Value, a.U) || got[0].Detail != "2 plants") { // the mean of 120 and 100
			t.Errorf("the verdict has %+v, the report %+v", got[0], a)
		}
	}
	found := false
	for _, f := range compare.Of(p, all, nil, compare.Options{}).Figures {
		if f.Quantity == outcome.RootArea && f.Treatment == control && len(f.Trays) > 1 {
			found = true
			if got[1].Words != table.WithU(f.Mean, f.U) {
				t.Errorf("the verdict has %s for %s, the report %s", got[1].Words, control, table.WithU(f.Mean, f.U))
			}
		}
	}
	if !found {
		t.Error("the report has no mean of several trays of the control: nothing was compared here")
	}
}
