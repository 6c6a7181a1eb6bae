package compare

import (
	"maps"
	"math"
	"slices"

	"traygauge/measure"
)

var nan = math.NaN()

// mean returns the arithmetic mean, NaN of nothing. Products and sums are rounded one by one, so that every processor agrees.
func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

// variance returns the sample's variance, with n − 1 below; NaN for fewer than two values.
func variance(xs []float64) float64 {
	if len(xs) < 2 {
		return nan
	}
	return squares(xs) / float64(len(xs)-1)
}

// squares returns the sum of squares about the mean.
func squares(xs []float64) float64 {
	m, sum := mean(xs), 0.0
	for _, x := range xs {
		sum += float64((x - m) * (x - m))
	}
	return sum
}

func abs(n int) int { return max(n, -n) }

// sortedValues returns the values in the order of their names, so that sums do not depend on a map's order.
func sortedValues(values map[string]float64) []float64 {
	xs := make([]float64, 0, len(values))
	for _, name := range slices.Sorted(maps.Keys(values)) {
		xs = append(xs, values[name])
	}
	return xs
}

// number returns v, Missing when it is no finite figure.
func number(v float64) measure.Number {
	if math.IsInf(v, 0) {
		return measure.Missing
	}
	return measure.Number(v)
}

// cvPct returns the coefficient of variation in % that a standard deviation s of logarithms stands for: √(exp(s²) − 1)
// of a log-normal quantity (Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, ch. 14).
func cvPct(s float64) float64 { return 100 * math.Sqrt(math.Expm1(s*s)) }

// logSD is the inverse of cvPct.
func logSD(cvPct float64) float64 { return math.Sqrt(math.Log1p(cvPct * cvPct / 1e4)) }
