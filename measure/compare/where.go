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
	"traygauge/measure/stats/dist"
)

// places looks at root and leaf area on a day.
func (t *trial) places(day int) []outcome.Place {
	all := []outcome.Place{}
	for _, name := range trended {
		q := trayfigure.QuantityCalled(name)
		if p, ok := t.edge(q, day); ok {
			all = append(all, p)
		}
		if p, ok := t.bench(t.layoutOf(q, day)); ok {
			all = append(all, p)
		}
	}
	return all
}

// edge compares the plugs on the tray's rim with those inside, tray by tray: the mean of the trays' log ratios with its t interval
// (a paired comparison, the tray being the pair).
func (t *trial) edge(q trayfigure.Quantity, day int) (outcome.Place, bool) {
	rim := map[string]bool{}
	for r := range t.Plan.Tray.Rows {
		for c := range t.Plan.Tray.Columns {
			rim[plan.PlugName(r, c)] = r == 0 || c == 0 || r == t.Plan.Tray.Rows-1 || c == t.Plan.Tray.Columns-1
		}
	}
	var logs []float64
	for _, tray := range t.Plan.Trays {
		var outer, inner []float64
		for name, v := range t.Plugs(q, day, tray.Number) {
			if on, known := rim[name]; known && on {
				outer = append(outer, v)
			} else if known {
				inner = append(inner, v)
			}
		}
		slices.Sort(outer)
		slices.Sort(inner)
		if r := math.Log(arithmetic.Mean(outer) / arithmetic.Mean(inner)); len(outer) > 2 && len(inner) > 2 && !math.IsNaN(r) && !math.IsInf(r, 0) {
			logs = append(logs, r)
		}
	}
	if len(logs) < 2 {
		return outcome.Place{}, false
	}
	m, df := arithmetic.Mean(logs), float64(len(logs)-1)
	se := math.Sqrt(arithmetic.Variance(logs) / float64(len(logs)))
	half := se * dist.TwoSidedTQuantile(1-outcome.Level, df)
	p := outcome.Place{Day: day, Quantity: q.Name, Kind: outcome.TrayEdge, Ratio: arithmetic.Number(math.Exp(m)), Lower: arithmetic.Number(math.Exp(m - half)), Upper: arithmetic.Number(math.Exp(m + half)),
		P: reading.Missing, Trays: len(logs)}
	if se > 0 {
		p.P = arithmetic.Number(dist.TwoSidedT(math.Abs(m)/se, df))
	}
	p.Words = fmt.Sprintf("Plugs at the edge of the trays have %.2f times the %s of plugs inside, 95 %% interval %.2f to %.2f (%d trays)", float64(p.Ratio), q.Name, float64(p.Lower), float64(p.Upper), p.Trays)
	return p, true
}

// bench looks whether trays treated alike differ with their place along the bench, by the common slope within treatments (analysis of
// covariance, Snedecor & Cochran 1989, Statistical Methods, ch. 18), and names the treatment whose places were the better ones. The ratio is
// that from the first place to the last. Comparisons are not adjusted for it: with few trays the slope is hardly known.
func (t *trial) bench(l *layout) (outcome.Place, bool) {
	at := map[int]float64{}
	first, last := math.Inf(1), math.Inf(-1)
	for _, tray := range t.Plan.Trays {
		if tray.Position > 0 {
			at[tray.Number] = float64(tray.Position)
			first, last = math.Min(first, at[tray.Number]), math.Max(last, at[tray.Number])
		}
	}
	if l.Scale != outcome.Ratio || last <= first {
		return outcome.Place{}, false
	}
	sxy, sxx, syy, df := 0.0, 0.0, 0.0, -1
	stood := map[string]float64{}
	for _, g := range l.groups {
		var xs, ys []float64
		for _, f := range g.figures {
			if x, ok := at[f.Tray]; ok {
				xs, ys = append(xs, x), append(ys, l.y(f))
			}
		}
		if len(xs) == 0 {
			continue
		}
		mx, my := arithmetic.Mean(xs), arithmetic.Mean(ys)
		stood[g.treatment] = mx
		for i := range xs {
			sxy, sxx, syy = sxy+(xs[i]-mx)*(ys[i]-my), sxx+(xs[i]-mx)*(xs[i]-mx), syy+(ys[i]-my)*(ys[i]-my)
		}
		df += len(xs) - 1
	}
	if df < 1 || !(sxx > 0) {
		return outcome.Place{}, false
	}
	slope := sxy / sxx
	se := math.Sqrt(math.Max(0, syy-slope*sxy) / float64(df) / sxx)
	if !(se > 0) {
		return outcome.Place{}, false
	}
	along, half := slope*(last-first), se*(last-first)*dist.TwoSidedTQuantile(1-outcome.Level, float64(df))
	p := outcome.Place{Day: l.Day, Quantity: l.Name, Kind: outcome.BenchPlace, Ratio: arithmetic.Number(math.Exp(along)), Lower: arithmetic.Number(math.Exp(along - half)), Upper: arithmetic.Number(math.Exp(along + half)),
		P: arithmetic.Number(dist.TwoSidedT(math.Abs(slope)/se, float64(df))), Trays: len(at)}
	if outcome.RatioSaysNothing(float64(p.Lower), float64(p.Upper)) {
		return outcome.Place{}, false
	}
	p.Words = fmt.Sprintf("With a straight trend along the bench, %s at position %.0f is %.2f times that at position %.0f, 95 %% interval %.2f to %.2f", l.Name, last, float64(p.Ratio), first, float64(p.Lower), float64(p.Upper))
	if p.P < 1-outcome.Level {
		p.Words += t.betterPlaces(stood, slope)
	}
	return p, true
}

// betterPlaces names the treatment whose places give it the greatest advantage over one of its controls.
func (t *trial) betterPlaces(stood map[string]float64, slope float64) string {
	most, words := 0.0, ""
	for _, treatment := range t.Plan.Treatments {
		for _, control := range treatment.CompareWith {
			here, ok := stood[treatment.Name]
			there, also := stood[control]
			if gain := slope * (here - there); ok && also && math.Abs(gain) > math.Abs(most) {
				better, worse := treatment.Name, control
				if gain < 0 {
					better, worse = control, treatment.Name
				}
				most, words = gain, fmt.Sprintf("; %s had better positions, worth a factor of %.2f compared with %s", better, math.Exp(math.Abs(gain)), worse)
			}
		}
	}
	return words
}
