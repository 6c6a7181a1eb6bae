package dist

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// The upper tails below are calculated as such, not as 1 − CDF, so that a small p keeps its digits.

// NormalCDF is Φ(z), exact in the lower tail too.
func NormalCDF(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// normalPDF is φ(z).
func normalPDF(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// TwoSidedT returns P(|T| > |t|) with nu degrees of freedom; nu may be +Inf.
func TwoSidedT(t, nu float64) float64 {
	t = math.Abs(t)
	switch {
	case math.IsNaN(t) || math.IsNaN(nu) || nu <= 0:
		return math.NaN()
	case math.IsInf(t, 1):
		return 0
	case math.IsInf(nu, 1):
		return math.Erfc(t / math.Sqrt2)
	case t < 1: // near p = 1, where ν/(ν+t²) is near 1 and rounds away what t adds
		return 1 - mathext.RegIncBeta(0.5, nu/2, t*t/(nu+t*t))
	}
	return mathext.RegIncBeta(nu/2, 0.5, nu/(nu+t*t))
}

// TwoSidedTQuantile returns the t that |T| exceeds with probability alpha.
func TwoSidedTQuantile(alpha, nu float64) float64 {
	if math.IsInf(nu, 1) {
		return -distuv.UnitNormal.Quantile(alpha / 2)
	}
	return -distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(alpha / 2)
}

// UpperF returns P(F > f) with d1 and d2 degrees of freedom.
func UpperF(f, d1, d2 float64) float64 {
	switch {
	case math.IsNaN(f) || !(d1 > 0) || !(d2 > 0):
		return math.NaN()
	case f <= 0:
		return 1
	case math.IsInf(f, 1):
		return 0
	}
	return mathext.RegIncBeta(d2/2, d1/2, d2/(d2+d1*f))
}

// UpperChiSquared returns P(χ² > x) with k degrees of freedom.
func UpperChiSquared(x, k float64) float64 {
	if math.IsNaN(x) || !(k > 0) {
		return math.NaN()
	}
	return distuv.ChiSquared{K: k}.Survival(x)
}
