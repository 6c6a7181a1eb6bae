package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/stats"
)

// mostZ is the modified z score beyond which a plug stands out; madOfNormal is the median absolute deviation of a normal distribution in its
// standard deviations, its quantile of 3/4.
const (
	mostZ       = 3.5
	madOfNormal = 0.6745
)

// outliers lists the plugs of a day whose root or leaf area stands out in their tray: by the modified z score 0.6745·(y − median)/MAD of
// the logarithms, beyond 3.5 (Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers, ch. 3). A plant without any is one, too.
func (t *trial) outliers(day int) []outcome.Outlier {
	list := []outcome.Outlier{}
	for _, name := range trended {
		q := trayfigure.QuantityCalled(name)
		for _, tray := range t.Plan.Trays {
			list = append(list, t.plugsThatStandOut(q, day, tray.Number)...)
		}
	}
	return list
}

func (t *trial) plugsThatStandOut(q trayfigure.Quantity, day, tray int) []outcome.Outlier {
	values := t.Plugs(q, day, tray)
	var ys []float64
	for _, v := range arithmetic.SortedValues(values) {
		if v > 0 {
			ys = append(ys, math.Log(v))
		}
	}
	if len(ys) < 8 { // a median of fewer says little
		return nil
	}
	slices.Sort(ys)
	middle := stats.Median(ys)
	away := make([]float64, len(ys))
	for i, y := range ys {
		away[i] = math.Abs(y - middle)
	}
	slices.Sort(away)
	mad := stats.Median(away)
	if mad == 0 {
		return nil
	}
	var list []outcome.Outlier
	for _, plug := range slices.Sorted(maps.Keys(values)) {
		v := values[plug]
		z := math.Inf(-1)
		if v > 0 {
			z = madOfNormal * (math.Log(v) - middle) / mad
		}
		if math.Abs(z) > mostZ {
			list = append(list, outcome.Outlier{Day: day, Quantity: q.Name, Tray: tray, Plug: plug, Value: arithmetic.Number(v), Usual: arithmetic.Number(math.Exp(middle)), Z: arithmetic.Number(z),
				Words: fmt.Sprintf("Plug %s of tray %d has %s of %s; the median of the tray is %s", plug, tray, outcome.Amount(v, q.Unit), q.Name, outcome.Amount(math.Exp(middle), q.Unit))})
		}
	}
	return list
}
