package html

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html/share"
	"traygauge/report/testtrial"
)

// longTrial is the page of a trial of ten treatments with six trays each, on eight days, whose photos are not available.
func longTrial() Page {
	p := testtrial.Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{5, 8, 11, 14, 17, 20, 23, 26}
	var readings []reading.Reading
	r := rand.New(rand.NewPCG(60, 8))
	for i, name := range []string{"water only", "base feed", "sugar", "seaweed", "seaweed + sugar", "compost tea", "humic acid", "kelp meal", "worm castings", "half feed"} {
		t := plan.Treatment{Name: name}
		if i > 0 {
			t.CompareWith = []string{p.Treatments[0].Name}
		}
		p.Treatments = append(p.Treatments, t)
		for range 6 {
			tray := len(p.Trays) + 1
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: name, Position: tray})
			on := math.Exp(0.08 * r.NormFloat64())
			for _, day := range p.ReviewDays {
				var roots, leaves []reading.Plug
				for n := range 50 {
					size := on * 3 * math.Exp(0.15*float64(day)+0.3*r.NormFloat64()) * (1 + 0.05*float64(i))
					plug := plan.PlugName(n/10, n%10)
					roots, leaves = append(roots, testtrial.RootPlug(plug, size, 3+r.Float64())), append(leaves, testtrial.LeafPlug(plug, size*9, 2+r.Float64()))
				}
				readings = append(readings, testtrial.Reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, reading.Roots, testtrial.Taken(day, 9, 0), roots...),
					testtrial.Reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, reading.Shoots, testtrial.Taken(day, 9, 30), leaves...))
			}
		}
	}
	return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Log: []logbook.Entry{}, Share: share.File}
}

// The page of sixty trays on eight days weighs at most 1.05 MB without its photos, and so at most 1.5 MB or so with them: pictures may take insideBytes.
func TestSixtyTraysAreALightPage(t *testing.T) {
	var text bytes.Buffer
	if _, _, err := WritePage(&text, longTrial()); err != nil {
		t.Fatal(err)
	}
	if text.Len() > 1_050_000 {
		t.Errorf("the page weighs %.2f MB", float64(text.Len())/1e6)
	}
}
