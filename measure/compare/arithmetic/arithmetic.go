// Package arithmetic has the calculations behind tray figures.
//
//	in    figures
//	out   means, variances, coefficients of variation; NaN where there is none
//
// It must not depend on what a figure means.
package arithmetic

import (
	"maps"
	"math"
	"slices"

	"traygauge/measure/reading"
)

var NaN = math.NaN()

// Mean returns the arithmetic mean, NaN of nothing. Products and sums are rounded one by one, so that every processor agrees.
func Mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

// Variance returns the sample's variance, with n − 1 below; NaN for fewer than two values.
func Variance(xs []float64) float64 {
	if len(xs) < 2 {
		return NaN
	}
	return Squares(xs) / float64(len(xs)-1)
}

// Rounding is the share of a figure that the rounding of sums may put on it or take from it.
const Rounding = 1e-12

// Squares returns the sum of squares about the mean, 0 of values that differ by no more than rounding.
func Squares(xs []float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	m, sum := Mean(xs), 0.0
	if low, high := slices.Min(xs), slices.Max(xs); high-low <= Rounding*math.Max(math.Abs(low), math.Abs(high)) {
		return 0
	}
	for _, x := range xs {
		sum += float64((x - m) * (x - m))
	}
	return sum
}

func Abs(n int) int { return max(n, -n) }

// SortedValues returns the values in the order of their names, so that sums do not depend on a map's order.
func SortedValues(values map[string]float64) []float64 {
	xs := make([]float64, 0, len(values))
	for _, name := range slices.Sorted(maps.Keys(values)) {
		xs = append(xs, values[name])
	}
	return xs
}

// Number returns v, Missing when it is no finite figure.
func Number(v float64) reading.Number {
	if math.IsInf(v, 0) {
		return reading.Missing
	}
	return reading.Number(v)
}

// CVPct returns the coefficient of variation in % that a standard deviation s of logarithms stands for: √(exp(s²) − 1)
// of a log-normal quantity (Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, ch. 14).
func CVPct(s float64) float64 { return 100 * math.Sqrt(math.Expm1(s*s)) }

// LogSD is the inverse of CVPct.
func LogSD(cvPct float64) float64 { return math.Sqrt(math.Log1p(cvPct * cvPct / 1e4)) }
