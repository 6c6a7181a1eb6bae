package dist

import "math"

// sdGrid is the distribution of s, the square root of a χ² over its ν degrees of freedom, as points and weights that add up to 1.
type sdGrid struct{ s, w []float64 }

// newSDGrid lays the points evenly in u = ln s. There the density is proportional to exp(ν(u − (e²ᵘ−1)/2)), which is analytic and
// dies out on both sides, so that the trapezoidal rule converges exponentially (Trefethen & Weideman 2014, SIAM Rev. 56,
// 385-458): a step of 0.4/√ν, at most 0.12, leaves an error below 1e-11. The tails are cut where the density has fallen by
// e⁻⁶⁰, so that a p-value of 1e-15 still has digits.
func newSDGrid(nu float64) sdGrid {
	if math.IsInf(nu, 1) {
		return sdGrid{[]float64{1}, []float64{1}}
	}
	log := func(u float64) float64 { return nu * (u - math.Expm1(2*u)/2) }
	h, g, sum := min(0.12, 0.4/math.Sqrt(nu)), sdGrid{}, 0.0
	add := func(u float64) bool {
		w := math.Exp(log(u))
		g.s, g.w = append(g.s, math.Exp(u)), append(g.w, w)
		sum += w
		return log(u) > -60
	}
	for u := 0.0; add(u); u += h {
	}
	for u := -h; add(u); u -= h {
	}
	for i := range g.w {
		g.w[i] /= sum
	}
	return g
}

// mean returns the expectation of f(s).
func (g sdGrid) mean(f func(s float64) float64) float64 {
	sum := 0.0
	for i, s := range g.s {
		sum += float64(g.w[i] * f(s))
	}
	return min(1, sum)
}

// quantileOf returns x with survival(x) = alpha, between lo and hi. Both are taken as logarithms, in which tails are nearly straight.
func quantileOf(survival func(float64) float64, alpha, lo, hi float64) float64 {
	f := func(logX float64) float64 { return math.Log(survival(math.Exp(logX)) / alpha) }
	l, h := math.Log(lo)-1e-9, math.Log(hi)+1e-9 // lo and hi may be the answer itself
	return math.Exp(Solve(f, l, h))
}
