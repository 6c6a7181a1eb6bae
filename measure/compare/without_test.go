package compare

import (
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// benchTrial has four trays of water in places 1, 2, 4 and 6 and four of feed in 3, 5, 7 and 8.
func benchTrial() (*plan.Plan, []reading.Reading) {
	p := twoTreatments(4, 4)
	p.MainQuestion = plan.Question{Quantity: outcome.RootArea, Day: 14, WorthPct: 20, Line: 1}
	var photos []reading.Reading
	for i, y := range []float64{10, 11, 12.5, 11.5, 14, 13, 16, 17} {
		p.Trays[i].Position = []int{1, 2, 4, 6, 3, 5, 7, 8}[i]
		photos = append(photos, roots(i+1, 14, y))
	}
	return p, photos
}

// R's lm(log(y) ~ treatment) has the ratio 1.330178544, 1.102166600 to 1.605360713, and with the place added, which leaves 8 − 3 = 5 degrees of freedom,
// 1.212613929, 1.023809912 to 1.436235890. The answer stays the plain one; the other stands beside it.
func TestStraightLineAlongTheBench(t *testing.T) {
	p, photos := benchTrial()
	r := Of(p, photos, nil, Options{})
	c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	near(t, "plain ratio", c.Estimate, 1.330178544, 1e-9)
	near(t, "plain lower", c.Lower, 1.102166600, 1e-9)
	if len(r.Without) != 1 || r.Without[0].What != outcome.BenchLine || len(r.Without[0].Lines) != 1 ||
		!strings.HasPrefix(r.Without[0].Words, "With a straight trend along the bench removed: feed against water only ") {
		t.Fatalf("%+v", r.Without)
	}
	tr := gather(p, photos)
	with := tr.againstControl(tr.layoutBy(trayfigure.QuantityCalled(outcome.RootArea), 14, tr.alongBench), "feed", "water only")
	for _, x := range []struct {
		what string
		got  reading.Number
		want float64
	}{{"ratio", with.Estimate, 1.212613929}, {"lower", with.Lower, 1.023809912}, {"upper", with.Upper, 1.436235890}, {"degrees of freedom", with.DF, 5}} {
		near(t, x.what, x.got, x.want, 1e-8)
	}
}

// With rows and columns that are not complete there is a line along each, which leaves 8 − 4 = 4: in R lm(log(y) ~ treatment + row + column) has the ratio
// 1.331968034, 1.028154338 to 1.725556931.
func TestStraightLineAlongRowsAndColumns(t *testing.T) {
	p, photos := benchTrial()
	for i := range p.Trays {
		p.Trays[i].Position, p.Trays[i].Row, p.Trays[i].Column = 0, []int{1, 1, 2, 2, 1, 2, 2, 1}[i], []int{1, 4, 2, 3, 2, 3, 1, 3}[i]
	}
	tr := gather(p, photos)
	with := tr.againstControl(tr.layoutBy(trayfigure.QuantityCalled(outcome.RootArea), 14, tr.alongBench), "feed", "water only")
	near(t, "ratio", with.Estimate, 1.331968034, 1e-8)
	near(t, "lower", with.Lower, 1.028154338, 1e-8)
	near(t, "upper", with.Upper, 1.725556931, 1e-8)
	near(t, "degrees of freedom", with.DF, 4, 1e-12)
}

// Three trays each in two treatments with a place: 6 − 3 = 3 degrees of freedom are enough; two trays each leave 1, and no line is set beside the
// answer. Within blocks there is none either.
func TestNoStraightLine(t *testing.T) {
	for trays, want := range map[int]int{3: 1, 2: 0} {
		p := twoTreatments(trays, trays)
		var photos []reading.Reading
		for i := range p.Trays {
			p.Trays[i].Position = i + 1
			photos = append(photos, roots(i+1, 14, 10+float64(i*i%5)))
		}
		if r := Of(p, photos, nil, Options{}); len(r.Without) != want {
			t.Errorf("%d trays per treatment: %+v", trays, r.Without)
		}
		for i := range p.Trays {
			p.Trays[i].Block = 1 + i%trays
		}
		if r := Of(p, photos, nil, Options{}); trays == 3 && len(r.Without) != 0 {
			t.Errorf("within blocks: %+v", r.Without)
		}
	}
}
