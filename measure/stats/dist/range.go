package dist

import "math"

// StudentizedRange is the distribution of Q = (largest − smallest of K independent standard normal values) / s, where Nu·s² is an
// independent χ² with Nu degrees of freedom; Nu may be +Inf. With W the range of the normal values,
//
//	P(W > w) = K ∫ φ(z) {Φ(z)ᴷ⁻¹ − [Φ(z) − Φ(z−w)]ᴷ⁻¹} dz        P(Q > q) = ∫ P(W > qs) f(s) ds
//
// (Hartley 1942, Biometrika 32, 334-348; Miller 1981, Simultaneous Statistical Inference, ch. 2). Errors are below 1e-10.
type StudentizedRange struct {
	K  int     // 2 or more
	Nu float64 // above 0
}

// Survival returns P(Q > q).
func (d StudentizedRange) Survival(q float64) float64 { return d.survival(d.curve())(q) }

// Quantile returns the q that Q does not exceed with probability p.
func (d StudentizedRange) Quantile(p float64) float64 { return d.UpperQuantile(1 - p) }

// UpperQuantile returns the q that Q exceeds with probability alpha, above 0 and below 1.
func (d StudentizedRange) UpperQuantile(alpha float64) float64 {
	return d.upperQuantile(d.curve(), alpha)
}

func (d StudentizedRange) upperQuantile(c *curve, alpha float64) float64 {
	if d.bad() || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	one := math.Sqrt2 * TwoSidedTQuantile(alpha, d.Nu)
	if d.K == 2 {
		return one
	}
	pairs := float64(d.K) * float64(d.K-1) / 2 // Q is at least that of one pair, and Bonferroni's bound is above
	return c.quantile(alpha, d.Nu, one, math.Sqrt2*TwoSidedTQuantile(alpha/pairs, d.Nu))
}

func (d StudentizedRange) bad() bool { return d.K < 2 || !(d.Nu > 0) }

// survival is P(Q > q), from the curve of the range before its division.
func (d StudentizedRange) survival(c *curve) func(q float64) float64 {
	switch {
	case d.bad():
		return func(float64) float64 { return math.NaN() }
	case d.K == 2:
		return func(q float64) float64 { return TwoSidedT(max(0, q)/math.Sqrt2, d.Nu) }
	}
	grid := newSDGrid(d.Nu)
	return func(q float64) float64 { return c.studentised(grid, q) }
}

func (d StudentizedRange) curve() *curve {
	if d.K < 3 {
		return nil // two groups are one t
	}
	return keptCurve(func() *curve { return rangeCurve(d.K) }, d.K)
}

// rangeCurve is P(W > w) of k normal values.
func rangeCurve(k int) *curve {
	const from, to = -9, 14
	power, step := float64(k-1), min(0.2, 0.5/math.Sqrt(float64(k)))
	var z, below, weight []float64
	for x := float64(from); x < to; x += step {
		a := NormalCDF(x)
		if w := float64(k) * step * normalPDF(x) * math.Pow(a, power); w > 0 {
			z, below, weight = append(z, x), append(below, a), append(weight, w)
		}
	}
	return newCurve(0.04, func(w float64) float64 {
		sum := 0.0
		for i, a := range below { // aᵏ⁻¹ − (a−b)ᵏ⁻¹ by expm1 keeps the digits of a small tail
			sum -= float64(weight[i] * math.Expm1(power*math.Log1p(-NormalCDF(z[i]-w)/a)))
		}
		return min(1, sum)
	})
}
