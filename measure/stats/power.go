package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/stats/dist"
)

// beyond returns P(|T| > critical) of a noncentral t: the power of a two-sided test.
func beyond(critical, df, noncentrality float64) float64 {
	if math.IsNaN(critical) || !(df > 0) {
		return math.NaN()
	}
	t := distuv.NoncentralT{Nu: df, Mu: math.Abs(noncentrality)}
	return min(1, max(0, 1-t.CDF(critical)+t.CDF(-critical)))
}

// Noncentrality returns the noncentrality of a t with df degrees of freedom at which a two-sided test with a critical value has the
// given power; NaN where none has.
func Noncentrality(critical, df, power float64) float64 {
	if !(power > 0 && power < 1) {
		return math.NaN()
	}
	missing := func(delta float64) float64 { return beyond(critical, df, delta) - power }
	lo, hi := 0.0, 1.0
	if missing(lo) >= 0 {
		return lo
	}
	for range 60 {
		p := missing(hi)
		if math.IsNaN(p) {
			break
		}
		if p >= 0 {
			return dist.Solve(missing, lo, hi)
		}
		lo, hi = hi, lo+2*(hi-lo)+1
	}
	return math.NaN()
}
