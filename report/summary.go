package report

import (
	"math"
	"slices"
	"traygauge/measure/reading"
)

// Summary describes the plugs of one tray. No values: everything is missing. One value has no SD.
type Summary struct {
	N                     int
	Sum, Mean, Median, SD reading.Number
}

// Summarise sums values up. The standard deviation is the sample's, with n − 1 below the root; the median of an even number of
// values is the mean of the middle two.
func Summarise(values []float64) Summary {
	n := len(values)
	s := Summary{n, reading.Missing, reading.Missing, reading.Missing, reading.Missing}
	if n == 0 {
		return s
	}
	sorted := slices.Sorted(slices.Values(values)) // so that the sum does not depend on the order of the plugs
	sum := 0.0
	for _, v := range sorted {
		sum += v
	}
	mean := sum / float64(n)
	s.Sum, s.Mean = reading.Number(sum), reading.Number(mean)
	s.Median = reading.Number((sorted[(n-1)/2] + sorted[n/2]) / 2)
	if n > 1 {
		squares := 0.0
		for _, v := range sorted {
			squares += float64((v - mean) * (v - mean))
		}
		s.SD = reading.Number(math.Sqrt(squares / float64(n-1)))
	}
	return s
}

// CVPct returns the coefficient of variation, 100·SD/mean in %. It is missing for fewer than two values and for a mean
// that is not above 0.
func (s Summary) CVPct() reading.Number {
	if !s.SD.Known() || s.Mean <= 0 {
		return reading.Missing
	}
	return 100 * s.SD / s.Mean
}
