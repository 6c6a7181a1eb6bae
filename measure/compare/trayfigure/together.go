package trayfigure

import (
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Together returns the mean of several trays' values of a quantity and its expanded uncertainty from the values' own, us. Each tray counts alike. On the ratio scale
// the mean is geometric, as in comparisons, unless a value is 0. The uncertainty is as if all trays were off to the same side, which one card makes
// likely. Both are missing for no values, the uncertainty where one of us is NaN.
func Together(scale outcome.Scale, values, us []float64) (mean, u reading.Number) {
	if scale != outcome.Ratio || len(values) == 0 || slices.Min(values) <= 0 {
		return arithmetic.Number(arithmetic.Mean(values)), arithmetic.Number(arithmetic.Mean(us))
	}
	var logs, relative []float64
	for i, v := range values {
		logs, relative = append(logs, math.Log(v)), append(relative, us[i]/v)
	}
	geometric := math.Exp(arithmetic.Mean(logs))
	return arithmetic.Number(geometric), arithmetic.Number(geometric * arithmetic.Mean(relative))
}
