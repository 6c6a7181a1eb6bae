package compare

import (
	"math"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Plugs on the rim half as large again as those inside, in each of four trays: 1.5 times, with an interval of no width but what the trays'
// own differences make: log ratios ln 1.5 ± 0.01 in turn have an SD of 0.011547, and ± 3.182446·0.011547/2 = ± 0.018374.
func TestEdgeOfTheTray(t *testing.T) {
	p := twoTreatments(2, 2)
	p.Tray.Rows, p.Tray.Columns = 4, 5
	var photos []reading.Reading
	for tray := 1; tray <= 4; tray++ {
		areas := make([]float64, 0, 50)
		for i := range 50 { // plugName names ten a row: columns 6 to 10 and a fifth row are not in this tray
			r, c := i/10, i%10
			v := 10.0
			if r == 0 || r == 3 || c == 0 || c == 4 {
				v *= 1.5 * math.Exp(0.01*float64(1-2*(tray%2)))
			}
			areas = append(areas, v)
		}
		photos = append(photos, roots(tray, 14, areas...))
	}
	r := Of(p, photos, nil, Options{})
	if len(r.Places) != 1 {
		t.Fatalf("%+v", r.Places)
	}
	e := r.Places[0]
	near(t, "edge", e.Ratio, 1.5, 1e-9)
	near(t, "upper", e.Upper, 1.5*math.Exp(0.018374), 1e-5)
	if e.Kind != outcome.TrayEdge || !strings.HasPrefix(e.Words, "Plugs at the edge of the trays have 1.50 times the root area of plugs inside") {
		t.Errorf("%+v", e)
	}
}

// Growth rises by 5 % a place, and feed stood two places further along than water: that is named, as 1.05² = 1.10 times.
func TestBetterPlacesAreNamed(t *testing.T) {
	p := twoTreatments(3, 3)
	for i, place := range []int{1, 2, 6, 3, 4, 8} {
		p.Trays[i].Position = place
	}
	var photos []reading.Reading
	for i, tray := range p.Trays {
		m := 10 * math.Pow(1.05, float64(tray.Position)) * (1 + 0.002*float64(i%2))
		photos = append(photos, roots(tray.Number, 14, 0.99*m, m, 1.01*m))
	}
	r := Of(p, photos, nil, Options{})
	if len(r.Places) != 1 || r.Places[0].Kind != outcome.BenchPlace {
		t.Fatalf("%+v", r.Places)
	}
	b := r.Places[0]
	near(t, "along the bench", b.Ratio, math.Pow(1.05, 7), 0.01)
	if !strings.HasSuffix(b.Words, "; feed had better positions, worth a factor of 1.10 compared with water only") {
		t.Error(b.Words)
	}
}
