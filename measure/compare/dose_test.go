package compare

import (
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Roots of 10, 10, 13 and 20 mm² at 0, 1, 7.5/3.785 = 2 and 4 mL/L, three trays each that differ by a few per cent: the trend is clear from 7.5 mL/gal on, as the plan writes it, and
// one tray a dose claims nothing.
func TestDoseTrend(t *testing.T) {
	dosed := func(trays int) (*plan.Plan, []reading.Reading) {
		p := trialOf([]int{trays, trays, trays, trays}, treatment("feed", nil, "feed"), treatment("high", []string{"feed"}, "feed"), treatment("low", []string{"feed"}, "feed"), treatment("mid", []string{"feed"}, "feed"))
		for i, dose := range map[int]string{1: "4 mL/L", 2: "1 mL/L", 3: "7.5 mL/gal"} {
			strong, err := plan.ParseDose(dose)
			if err != nil {
				t.Fatal(err)
			}
			p.Treatments[i].Gets = append(p.Treatments[i].Gets, plan.Dose{Product: "seaweed", MLPerL: strong, Written: dose})
		}
		var photos []reading.Reading
		for i, tray := range p.Trays {
			m := []float64{10, 20, 10, 13}[i/trays] * (1 + 0.03*float64(i%trays-1))
			photos = append(photos, roots(tray.Number, 14, 0.99*m, m, 1.01*m))
		}
		return p, photos
	}
	p, photos := dosed(3)
	r := Of(p, photos, nil, Options{})
	if len(r.Doses) != 1 {
		t.Fatalf("%+v", r.Doses)
	}
	d := r.Doses[0]
	if d.Verdict != outcome.More || !strings.HasPrefix(d.Words, "Root area rises with the dose of seaweed (Williams’ test, p < 0.001)") || !strings.HasSuffix(d.Words, "is 7.5 mL/gal (2.0 mL/L) in mid") ||
		d.Steps[0].Treatment != "low" || d.Steps[1].Dose != "7.5 mL/gal (2.0 mL/L)" || d.Steps[2].Trays != 3 {
		t.Errorf("%+v", d)
	}
	p, photos = dosed(1)
	if d := Of(p, photos, nil, Options{}).Doses[0]; d.Verdict != outcome.TheseTrays || d.P.Known() {
		t.Errorf("%+v", d)
	}
	if none := Of(twoTreatments(2, 2), []reading.Reading{roots(1, 14, 5, 6)}, nil, Options{}).Doses; len(none) != 0 {
		t.Errorf("a dose series where the plan has none: %+v", none)
	}
}
