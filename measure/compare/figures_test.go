package compare

import (
	"fmt"
	"math"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
)

// Trays of water only have means 5 and 6 (of 4 and 6, of 5 and 7), geometric mean √30; those of the feed 10 and 12, √120.
func TestFiguresAreTheTraysMeansAndTheComparisonsMeans(t *testing.T) {
	r := Of(twoTreatments(2, 2), []reading.Reading{roots(1, 14, 4, 6), roots(2, 14, 5, 7), roots(3, 14, 8, 12), roots(4, 14, 11, 13)}, nil, Options{})
	c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	for treatment, want := range map[string]struct {
		mean, low, high float64
		compared        reading.Number
		trays           string
	}{
		"water only": {math.Sqrt(30), 5, 6, c.ControlMean, "[{1 5 2} {2 6 2}]"},
		"feed":       {math.Sqrt(120), 10, 12, c.Mean, "[{3 10 2} {4 12 2}]"},
	} {
		found := 0
		for _, f := range r.On(14).Figures {
			if f.Quantity != outcome.RootArea || f.Treatment != treatment {
				continue
			}
			found++
			low, high := f.Range()
			if math.Abs(float64(f.Mean)-want.mean) > 1e-9 || f.Mean != want.compared || float64(low) != want.low || float64(high) != want.high ||
				fmt.Sprint(f.Trays) != want.trays || f.Unit != "mm²" || f.Day != 14 {
				t.Errorf("%s: %+v, from %g to %g, want %+v", treatment, f, float64(low), float64(high), want)
			}
		}
		if found != 1 {
			t.Errorf("%s has %d figures", treatment, found)
		}
	}
	if got := r.On(13).Figures; len(got) != 0 {
		t.Errorf("a day without photos has figures %v", got)
	}
}

// Two trays of which one shows no root at all: 0 and 4 have no ratio, so the mean is the arithmetic one, 2.
func TestFiguresOfNothingAtAll(t *testing.T) {
	r := Of(twoTreatments(1, 2), []reading.Reading{roots(1, 14, 2, 2), roots(2, 14, 0, 0), roots(3, 14, 4, 4)}, nil, Options{})
	for _, f := range r.Figures {
		if low, high := f.Range(); f.Quantity == outcome.RootArea && f.Treatment == "feed" && (f.Mean != 2 || low != 0 || high != 4) {
			t.Errorf("mean %g, from %g to %g", float64(f.Mean), float64(low), float64(high))
		}
	}
	if low, high := (outcome.Figures{}).Range(); low.Known() || high.Known() {
		t.Errorf("without trays the range is %g to %g", float64(low), float64(high))
	}
}

// A treatment's mean has the error bars of its trays, as if both erred to the same side. Means of 5 and 6 mm² with U₁ and U₂ have the geometric
// mean √30, and d√(ab)/√(ab) = (da/a + db/b)/2. Without an error bar for one tray there is none for the mean.
func TestMeansHaveTheirTraysErrorBars(t *testing.T) {
	p := twoTreatments(2, 1)
	with := func(r reading.Reading, us ...reading.Number) reading.Reading {
		for i := range r.Plugs {
			r.Plugs[i].RootAreaUMM2 = us[i]
		}
		return r
	}
	readings := []reading.Reading{with(roots(1, 14, 4, 6), 0.4, 0.6), with(roots(2, 14, 5, 7), 0.5, 0.7), roots(3, 14, 8, 12)}
	us := map[int]float64{}
	for _, d := range trayfigure.TrayDays(p, readings) {
		us[d.Tray] = float64(d.Amounts[outcome.RootArea].U)
	}
	if !(us[1] > 0.1 && us[2] > us[1]) {
		t.Fatalf("the trays' error bars are %v", us)
	}
	for _, f := range Of(p, readings, nil, Options{}).Figures {
		if f.Quantity != outcome.RootArea {
			continue
		}
		want := math.Sqrt(30) * (us[1]/5 + us[2]/6) / 2
		if f.Treatment == "feed" {
			want = math.NaN()
		}
		if got := float64(f.U); math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: ± %g, want %g", f.Treatment, got, want)
		}
	}
}
