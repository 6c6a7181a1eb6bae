package stats

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
func (d StudentizedRange) Survival(q float64) float64 { return d.survival()(q) }

// CDF returns P(Q <= q).
func (d StudentizedRange) CDF(q float64) float64 { return 1 - d.Survival(q) }

// Quantile returns the q that Q does not exceed with probability p.
func (d StudentizedRange) Quantile(p float64) float64 { return d.UpperQuantile(1 - p) }

// UpperQuantile returns the q that Q exceeds with probability alpha, above 0 and below 1.
func (d StudentizedRange) UpperQuantile(alpha float64) float64 {
	if d.bad() || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	if d.K == 2 {
		return math.Sqrt2 * twoSidedTQuantile(alpha, d.Nu)
	}
	pairs := float64(d.K) * float64(d.K-1) / 2 // Q is at least that of one pair, and Bonferroni's bound is above
	return quantileOf(d.survival(), alpha, math.Sqrt2*twoSidedTQuantile(alpha, d.Nu), math.Sqrt2*twoSidedTQuantile(alpha/pairs, d.Nu))
}

func (d StudentizedRange) bad() bool { return d.K < 2 || !(d.Nu > 0) }

// survival prepares what does not depend on q.
func (d StudentizedRange) survival() func(q float64) float64 {
	if d.bad() {
		return func(float64) float64 { return math.NaN() }
	}
	const from, to = -9, 14
	power, step := float64(d.K-1), min(0.2, 0.5/math.Sqrt(float64(d.K)))
	var z, below, weight []float64
	for x := float64(from); x < to; x += step {
		a := normalCDF(x)
		z, below, weight = append(z, x), append(below, a), append(weight, float64(d.K)*step*normalPDF(x)*math.Pow(a, power))
	}
	grid := newSDGrid(d.Nu)
	return func(q float64) float64 {
		switch {
		case math.IsNaN(q):
			return q
		case q <= 0:
			return 1
		case d.K == 2:
			return twoSidedT(q/math.Sqrt2, d.Nu)
		}
		return grid.mean(func(s float64) float64 {
			w, sum := q*s, 0.0
			for i, a := range below {
				if weight[i] > 0 {
					sum -= float64(weight[i] * math.Expm1(power*math.Log1p(-normalCDF(z[i]-w)/a)))
				}
			}
			return min(1, sum)
		})
	}
}
