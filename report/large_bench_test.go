package report_test

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html"
	"traygauge/report/testtrial"
	"traygauge/report/xlsx"
)

// wholeSeason is an invented trial of twenty treatments in sixty trays of fifty plugs, photographed on eight days from above and from
// below, with trays and plugs that vary: 48 000 plugs.
func wholeSeason() (*plan.Plan, []reading.Reading) {
	p, _ := testtrial.Large()
	p.ReviewDays = []int{7, 10, 14, 17, 21, 24, 28, 31}
	p.MainQuestion = plan.Question{Quantity: outcome.LeafArea, Day: 31, WorthPct: 20, Line: 1}
	r := rand.New(rand.NewPCG(60, 50))
	var readings []reading.Reading
	for _, tray := range p.Trays {
		for _, day := range p.ReviewDays {
			var roots, leaves []reading.Plug
			on := math.Exp(0.1 * r.NormFloat64())
			for i := range 50 {
				name := plan.PlugName(i/10, i%10)
				size := float64(day) * on * math.Exp(0.3*r.NormFloat64())
				roots, leaves = append(roots, testtrial.RootPlug(name, size, 9*r.Float64())), append(leaves, testtrial.LeafPlug(name, 10*size, 20*r.Float64()))
				leaves[i].LeafHueDeg = reading.Number(118 + 3*r.NormFloat64())
			}
			for view, plugs := range map[string][]reading.Plug{"roots": roots, "shoots": leaves} {
				readings = append(readings, testtrial.Reading(fmt.Sprintf("day%d/tray%d-%s.jpg", day, tray.Number, view), tray.Number, view, testtrial.Taken(day, 9, tray.Number), testtrial.Placed(plugs...)...))
			}
		}
	}
	return p, readings
}

// BenchmarkCompareAWholeSeason compares wholeSeason, as `traygauge compare` does once it has read the readings.
func BenchmarkCompareAWholeSeason(b *testing.B) {
	p, readings := wholeSeason()
	for b.Loop() {
		compare.Of(p, readings, nil, compare.Options{})
	}
	b.ReportMetric(testtrial.PeakMB(), "peak-MB")
}

// BenchmarkReportAWholeSeason writes all that `traygauge report` writes of wholeSeason, without the photos' pictures.
func BenchmarkReportAWholeSeason(b *testing.B) {
	p, readings := wholeSeason()
	for b.Loop() {
		page := html.Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings}
		for _, err := range []error{report.WritePlugsCSV(io.Discard, page.Trial), report.WritePhotosCSV(io.Discard, page.Trial), report.WriteTraysCSV(io.Discard, page.Trial),
			report.WriteComparisonsCSV(io.Discard, page.Compared), xlsx.Write(io.Discard, page.Trial, xlsx.Options{Compared: page.Compared})} {
			if err != nil {
				b.Fatal(err)
			}
		}
		if _, _, err := html.WritePage(io.Discard, page); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(testtrial.PeakMB(), "peak-MB")
}
