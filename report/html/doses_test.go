package html

import (
	"strings"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/testtrial"
)

// dosedPage is a trial of seaweed at 1, 2 and 4 mL/L on a base feed, two trays each.
func dosedPage() Page {
	p := testtrial.Plan()
	feed := plan.Dose{Product: "base feed", MLPerL: 2}
	p.Treatments, p.Trays = []plan.Treatment{{Name: "base feed", Gets: []plan.Dose{feed}}}, nil
	for name, dose := range map[string]float64{"low": 1, "mid": 2, "high": 4} {
		p.Treatments = append(p.Treatments, plan.Treatment{Name: name, Gets: []plan.Dose{feed, {Product: "seaweed", MLPerL: dose}}, CompareWith: []string{"base feed"}})
	}
	var readings []reading.Reading
	for i, t := range p.Treatments {
		size := map[string]float64{"base feed": 10, "low": 12, "mid": 16, "high": 17}[t.Name]
		for k := range 2 {
			number := 2*i + k + 1
			p.Trays = append(p.Trays, plan.Tray{Number: number, Treatment: t.Name})
			m := size * (1 + 0.05*float64(k))
			readings = append(readings, testtrial.Reading(t.Name+string(rune('a'+k))+".jpg", number, "roots", testtrial.Taken(10, 9, number), testtrial.RootPlug("A1", 0.98*m, 0), testtrial.RootPlug("A2", m, 0), testtrial.RootPlug("A3", 1.02*m, 0)))
		}
	}
	return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings}
}

// Three doses are drawn as dots on a curve that ends at the highest dose, with the caution to follow the label beside it.
func TestDosesAreDrawn(t *testing.T) {
	p := dosedPage()
	blocks := doseBlocks(p.Compared)
	if len(blocks) != 1 || blocks[0].Panel == nil {
		t.Fatalf("%+v", blocks)
	}
	panel := blocks[0].Panel
	if n := len(panel.Lines); n != 4 || len(panel.Lines[3].Dots) != 3 || len(panel.Lines[2].Pieces) != 24 {
		t.Errorf("%d lines: %+v", n, panel.Lines)
	}
	if end, dot := panel.Lines[2].Pieces[23].X2, panel.Lines[3].Dots[2].X; end != dot || end != "88.00%" {
		t.Errorf("the curve ends at %s, the highest dose is at %s", end, dot)
	}
	text := written(t, p)
	for _, want := range []string{"Root area rises with the dose of seaweed", "follow the product’s label", "a fitted curve and its 95 % interval"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}
