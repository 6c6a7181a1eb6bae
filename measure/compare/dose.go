package compare

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/stats"
)

// DoseTrend says whether a quantity rises or falls with the dose of a product.
type DoseTrend struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Product  string         `json:"product"`
	Control  string         `json:"control"` // all else and none of the product
	Unit     string         `json:"unit"`
	Steps    []DoseMean     `json:"doses"`           // from the lowest up
	Curve    []CurvePoint   `json:"curve,omitempty"` // from three doses on
	P        measure.Number `json:"p"`               // two-sided, Williams' test
	Verdict  Verdict        `json:"verdict"`
	Words    string         `json:"words"`
}

// DoseMean is one dose's mean over its trays.
type DoseMean struct {
	Treatment string         `json:"treatment"`
	MLPerL    float64        `json:"ml_per_l"`
	Mean      measure.Number `json:"mean"`
	Trays     int            `json:"trays_n"`
}

// trended are the quantities whose dose is looked at, beside the main question's.
var trended = []string{RootArea, LeafArea}

// doseTrends tests the plan's dose series on a day: trays by the common variance, as all else.
func (t *trial) doseTrends(day int) []DoseTrend {
	var all []DoseTrend
	names := trended
	if q := t.plan.MainQuestion; q.Planned() && !slices.Contains(names, q.Quantity) {
		names = append(slices.Clone(names), q.Quantity)
	}
	for _, s := range t.plan.DoseSeries() {
		for _, name := range names {
			if d, ok := t.doseTrend(t.layoutOf(quantityCalled(name), day), s); ok {
				all = append(all, d)
			}
		}
	}
	return all
}

func (t *trial) doseTrend(l *layout, s plan.DoseSeries) (DoseTrend, bool) {
	d := DoseTrend{Day: l.day, Quantity: l.name, Unit: l.unit, Product: s.Product, Control: s.Base, P: measure.Missing, Verdict: NotCompared}
	base := l.group(s.Base)
	doses, means, counts := []float64{0}, []float64{mean(l.ys(base))}, []int{len(base.figures)}
	for _, step := range s.Steps {
		g := l.group(step.Treatment)
		d.Steps = append(d.Steps, DoseMean{step.Treatment, step.MLPerL, l.meanOf(g), len(g.figures)})
		doses, means, counts = append(doses, step.MLPerL), append(means, mean(l.ys(g))), append(counts, len(g.figures))
	}
	if slices.Contains(counts, 0) {
		return d, false
	}
	what := fmt.Sprintf("%s with more %s", l.name, s.Product)
	if !l.byTrays() {
		d.Verdict, d.Words = TheseTrays, upper(what)+": one tray a dose, so that nothing can be claimed of the dose"
		return d, true
	}
	d.Curve = l.curve(doses, means, counts)
	variance, df := l.known()
	trend, err := stats.WilliamsTrend(means, counts, variance, math.Min(df, 1000), 1-Level)
	if err != nil {
		d.Words = upper(what) + ": trays treated alike are exactly the same, so no difference can be judged"
		return d, true
	}
	d.P = number(trend.P)
	if trend.Lowest < 0 {
		d.Verdict, d.Words = Unclear, fmt.Sprintf("No clear trend of %s (Williams' test, %s)", what, PWords(d.P))
		return d, true
	}
	word := "rises"
	if d.Verdict = More; trend.T < 0 {
		word, d.Verdict = "falls", Less
	}
	step := s.Steps[trend.Lowest]
	d.Words = fmt.Sprintf("%s %s with the dose of %s (Williams' test, %s); the lowest dose that differs from none is %s (%s)", upper(l.name), word, s.Product, PWords(d.P),
		plain(step.MLPerL)+" mL/L", step.Treatment)
	return d, true
}
