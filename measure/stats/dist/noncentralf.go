package dist

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// NoncentralF is the distribution of an F whose numerator has noncentrality Lambda:
//
//	P(F <= x) = Σⱼ Poisson(j; λ/2) · I_y(d₁/2 + j, d₂/2)    y = d₁x/(d₁x + d₂)
//
// (Johnson, Kotz & Balakrishnan 1995, Continuous Univariate Distributions 2, ch. 30). Errors are below 1e-11.
type NoncentralF struct{ D1, D2, Lambda float64 }

// CDF returns P(F <= x).
func (d NoncentralF) CDF(x float64) float64 {
	if math.IsNaN(x) || !(d.D1 > 0) || !(d.D2 > 0) || !(d.Lambda >= 0) || math.IsInf(d.Lambda, 1) {
		return math.NaN()
	}
	if x <= 0 {
		return 0
	}
	if math.IsInf(x, 1) {
		return 1
	}
	y, half := d.D1*x/(d.D1*x+d.D2), d.Lambda/2
	term := func(j float64) float64 {
		log := -half
		if j > 0 { // 0·ln 0 is 0
			g, _ := math.Lgamma(j + 1)
			log = j*math.Log(half) - half - g
		}
		return math.Exp(log) * mathext.RegIncBeta(d.D1/2+j, d.D2/2, y)
	}
	middle, sum := math.Floor(half), 0.0
	if half == 0 {
		return term(0)
	}
	for j := middle; j >= 0; j-- { // outwards from the likeliest, until nothing more is added
		v := term(j)
		if sum += v; v < 1e-17 && middle-j > 10*math.Sqrt(half) {
			break
		}
	}
	for j := middle + 1; ; j++ {
		v := term(j)
		if sum += v; v < 1e-17 && j > middle+10*math.Sqrt(half)+10 {
			break
		}
	}
	return min(1, sum)
}

// Survival returns P(F > x).
func (d NoncentralF) Survival(x float64) float64 { return 1 - d.CDF(x) }
