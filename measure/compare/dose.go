package compare

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/wording"
)

// trended are the quantities whose dose is looked at, beside the main question's.
var trended = []string{outcome.RootArea, outcome.LeafArea}

// doseTrends tests the plan's dose series on a day: trays by the common variance, as all else.
func (t *trial) doseTrends(day int) []outcome.DoseTrend {
	var all []outcome.DoseTrend
	names := trended
	if q := t.Plan.MainQuestion; q.Planned() && !slices.Contains(names, q.Quantity) {
		names = append(slices.Clone(names), q.Quantity)
	}
	for _, s := range t.Plan.DoseSeries() {
		for _, name := range names {
			if d, ok := t.doseTrend(t.layoutOf(trayfigure.QuantityCalled(name), day), s); ok {
				all = append(all, d)
			}
		}
	}
	return all
}

func (t *trial) doseTrend(l *layout, s plan.DoseSeries) (outcome.DoseTrend, bool) {
	d := outcome.DoseTrend{Day: l.Day, Quantity: l.Name, Unit: l.Unit, Product: s.Product, Control: s.Base, P: reading.Missing, Verdict: outcome.NotCompared}
	base := l.group(s.Base)
	doses, means, counts := []float64{0}, []float64{l.onScaleMean(base)}, []int{len(base.figures)}
	for _, step := range s.Steps {
		g := l.group(step.Treatment)
		d.Steps = append(d.Steps, outcome.DoseMean{Treatment: step.Treatment, Dose: step.Words(), MLPerL: step.MLPerL, Mean: l.meanOf(g), Trays: len(g.figures)})
		doses, means, counts = append(doses, step.MLPerL), append(means, l.onScaleMean(g)), append(counts, len(g.figures))
	}
	if slices.Contains(counts, 0) {
		return d, false
	}
	what := fmt.Sprintf("%s with more %s", l.Name, s.Product)
	if !l.byTrays() {
		d.Verdict, d.Words = outcome.TheseTrays, wording.Upper(what)+": one tray per dose, so no conclusion about the dose is possible"
		return d, true
	}
	d.Curve = l.curve(doses, means, counts, l.inflation(base, s))
	variance, df := l.known(len(s.Steps))
	variance *= l.inflation(base, s)
	trend, err := stats.WilliamsTrend(means, counts, variance, math.Min(df, 1000), 1-outcome.Level)
	if err != nil {
		d.Words = wording.Upper(what) + ": trays treated alike are exactly equal, so no test is possible"
		return d, true
	}
	d.P = arithmetic.Number(trend.P)
	if trend.Lowest < 0 {
		d.Verdict, d.Words = outcome.Unclear, fmt.Sprintf("No clear trend of %s (Williams’ test, %s)", what, outcome.PWords(d.P))
		return d, true
	}
	word := "rises"
	if d.Verdict = outcome.More; trend.T < 0 {
		word, d.Verdict = "falls", outcome.Less
	}
	step := s.Steps[trend.Lowest]
	d.Words = fmt.Sprintf("%s %s with the dose of %s (Williams’ test, %s); the lowest dose with an effect is %s in %s", wording.Upper(l.Name), word, s.Product, outcome.PWords(d.P),
		step.Words(), step.Treatment)
	return d, true
}

// onScaleMean is a treatment's mean over its trays on the scale, NaN without trays.
func (l *layout) onScaleMean(g group) float64 {
	if len(g.figures) == 0 {
		return arithmetic.NaN
	}
	return l.estimate(l.weights(term{g, 1}))
}

// inflation is how many times the variance of a difference between a dose and none is that between plain means of as many trays, the largest of
// the series: 1 but for doses compared within incomplete blocks, rows or columns. Williams' test, which knows plain means alone, is made with the
// variance inflated, on the side of caution.
func (l *layout) inflation(base group, s plan.DoseSeries) float64 {
	most := 1.0
	if l.model == nil {
		return most
	}
	for _, step := range s.Steps {
		g := l.group(step.Treatment)
		w := l.weights(term{g, 1}, term{base, -1})
		most = math.Max(most, dot(w, w)/(1/float64(len(g.figures))+1/float64(len(base.figures))))
	}
	return most
}
