package raster

import (
	"math"
	"sort"
)

// Sq is x².
func Sq(x float64) float64 { return x * x }

// PerMedianOff is what the median of absolute deviations is multiplied by to be a standard deviation, under normal errors: 1/Φ⁻¹(3/4).
const PerMedianOff = 1.4826

// Median of v, which it sorts; NaN for none.
func Median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sort.Float64s(v)
	if n := len(v); n%2 == 0 {
		return (v[n/2-1] + v[n/2]) / 2
	}
	return v[len(v)/2]
}

// solve3 solves three linear equations by elimination with pivoting.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range 3 {
		p := i
		for r := i + 1; r < 3; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[p][i]) {
				p = r
			}
		}
		m[i], m[p] = m[p], m[i]
		if math.Abs(m[i][i]) < 1e-12 {
			return x, false
		}
		for r := range 3 {
			if r != i {
				f := m[r][i] / m[i][i]
				for c := i; c < 4; c++ {
					m[r][c] -= f * m[i][c]
				}
			}
		}
	}
	for i := range 3 {
		x[i] = m[i][3] / m[i][i]
	}
	return x, true
}
