package compare

import (
	"fmt"
	"math"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/stats/dist"
	"traygauge/measure/wording"
)

// outlyingRule is the rule by which trays are listed, in words.
const outlyingRule = "A tray stands out if its externally studentised residual is larger than that of any tray in 95 of 100 trials " +
	"(Cook & Weisberg 1982; Bonferroni). It still counts, and the main question is answered with and without it"

// outlyingTrays lists the trays that stand out in root or leaf area on the last review's day, or in the main question's quantity on its day.
func (t *trial) outlyingTrays(r *outcome.Result) []outcome.Outlying {
	list := []outcome.Outlying{}
	for _, name := range trended {
		if name != r.Answer.Quantity {
			list = append(list, t.layoutOf(trayfigure.QuantityCalled(name), r.LastDay).outlying(t)...)
		}
	}
	return append(list, t.layoutOf(trayfigure.QuantityCalled(r.Answer.Quantity), r.Answer.Day).outlying(t)...)
}

// outlying lists a layout's trays whose externally studentised residual is beyond what 5 of 100 trials without any such tray show in one of all
// their trays,
//
//	t = e/√(s²·(1 − h)), s² = (Σe² − e²/(1 − h))/(df − 1)
//
// with e the residual of a tray after treatment and place, h its leverage and df − 1 degrees of freedom; p times the number of trays (Cook &
// Weisberg 1982, Residuals and Influence in Regression, 2.2; Beckman & Cook 1983, Technometrics 25, 119-149). The tray itself is not
// in s², which is pooled over treatments and no less than what plugs and photos make of it. Trays whose residuals go with each
// other, as those of a treatment with two trays, count as one.
func (l *layout) outlying(t *trial) []outcome.Outlying {
	m := l.model
	if m == nil && len(l.measuredGroups()) > 0 {
		m = l.modelWith(nil, "")
	}
	if m == nil || m.linear.DF < 2 {
		return nil
	}
	residuals, left := l.residuals()
	mirrors, all := m.linear.Mirrors(), l.all()
	squared, looked := 0.0, 0
	for i, e := range residuals {
		squared += float64(e * e)
		looked += int(indicator(mirrors[i] == i))
	}
	var list []outcome.Outlying
	for i, f := range all {
		if mirrors[i] != i {
			continue
		}
		e := residuals[i] / left[i] // from what all others lead one to expect
		df := m.linear.DF - 1
		s2 := (squared - e*e*left[i]) / float64(df)
		if !math.IsNaN(l.floor) {
			s2 = math.Max(s2, l.floor)
		}
		if !(s2 > 1e-12*squared) { // the others agree to the last digit: there is no scatter to judge by
			continue
		}
		t0 := e * math.Sqrt(left[i]/s2)
		p := math.Min(1, float64(looked)*dist.TwoSidedT(math.Abs(t0), float64(df)))
		if p >= 1-outcome.Level {
			continue
		}
		o := outcome.Outlying{Day: l.Day, Quantity: l.Name, Value: arithmetic.Number(f.Value), Expected: l.back(l.y(f) - e), T: arithmetic.Number(t0), DF: df, P: arithmetic.Number(p)}
		for k := range all {
			if mirrors[k] == i {
				o.Trays = append(o.Trays, all[k].Tray)
			}
		}
		o.Words = l.outlyingWords(t, o, looked)
		list = append(list, o)
	}
	return list
}

func (l *layout) outlyingWords(t *trial, o outcome.Outlying, looked int) string {
	one := fmt.Sprintf("tray %d (%s)", o.Trays[0], t.Plan.TreatmentOf(o.Trays[0]))
	shows := fmt.Sprintf("%s of %s; from all other trays, about %s is expected (externally studentised residual %.1f, %s for all trays)",
		outcome.Amount(float64(o.Value), l.Unit), l.Name, outcome.Amount(float64(o.Expected), l.Unit), float64(o.T), outcome.PWords(o.P))
	if len(o.Trays) == 1 {
		return fmt.Sprintf("%s stands out on day %d, with %s; it still counts", one, o.Day, shows)
	}
	var others []string
	for _, tray := range o.Trays[1:] {
		others = append(others, fmt.Sprintf("tray %d", tray))
	}
	return fmt.Sprintf("%s or %s stands out on day %d, but it is not clear which: tray %d has %s; all still count", one, wording.List(others), o.Day, o.Trays[0], shows)
}
