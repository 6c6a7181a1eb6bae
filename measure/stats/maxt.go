package stats

import (
	"math"
	"slices"
)

// MaxAbsT is the distribution of the largest |Tᵢ| of a multivariate t with Nu degrees of freedom (may be +Inf) whose correlations
// are products, ρᵢⱼ = √(λᵢλⱼ), as those of comparisons with one control are. With bᵢ = √λᵢ and rᵢ = √(1−λᵢ),
//
//	P(max|T| <= d) = ∫ f(s) ∫ φ(z) ∏ {Φ[(ds + bᵢz)/rᵢ] − Φ[(−ds + bᵢz)/rᵢ]} dz ds
//
// (Dunnett 1955, JASA 50, 1096-1121; Dunnett & Sobel 1955, Biometrika 42, 258-260). Errors are below 1e-10 for λ up to 0.99. A λ
// above 0.999 is taken as 0.999, which errs on the side of caution, as less correlation makes the maximum larger (Šidák 1967,
// JASA 62, 626-633).
type MaxAbsT struct {
	Lambda []float64 // 0 to 1
	Nu     float64   // above 0
}

// ManyToOne returns the distribution for treatments of the given sizes against a control of nControl values, one variance for all:
// λᵢ = nᵢ/(nᵢ + n₀).
func ManyToOne(nControl int, n []int, nu float64) MaxAbsT {
	d := MaxAbsT{Nu: nu}
	for _, ni := range n {
		d.Lambda = append(d.Lambda, float64(ni)/float64(ni+nControl))
	}
	return d
}

// Survival returns P(max|T| > d): of one comparison's |t|, its adjusted p.
func (m MaxAbsT) Survival(d float64) float64 { return m.survival()(d) }

// CDF returns P(max|T| <= d).
func (m MaxAbsT) CDF(d float64) float64 { return 1 - m.Survival(d) }

// Quantile returns the d that max|T| does not exceed with probability p: the critical value.
func (m MaxAbsT) Quantile(p float64) float64 { return m.UpperQuantile(1 - p) }

// UpperQuantile returns the d that max|T| exceeds with probability alpha, above 0 and below 1.
func (m MaxAbsT) UpperQuantile(alpha float64) float64 {
	if m.bad() || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	one := twoSidedTQuantile(alpha, m.Nu)
	if len(m.Lambda) == 1 {
		return one
	}
	return quantileOf(m.survival(), alpha, one, twoSidedTQuantile(alpha/float64(len(m.Lambda)), m.Nu))
}

func (m MaxAbsT) bad() bool {
	return len(m.Lambda) == 0 || !(m.Nu > 0) || slices.ContainsFunc(m.Lambda, func(l float64) bool { return !(l >= 0 && l <= 1) })
}

// factor is one λ and how often it occurs: equal sizes are worked out once.
type factor struct{ b, r, times float64 }

func (m MaxAbsT) factors() (fs []factor) {
	sorted := slices.Sorted(slices.Values(m.Lambda))
	for i, l := range sorted {
		if i > 0 && l == sorted[i-1] {
			fs[len(fs)-1].times++
			continue
		}
		l = min(l, 0.999)
		fs = append(fs, factor{math.Sqrt(l), math.Sqrt(1 - l), 1})
	}
	return fs
}

// survival prepares what does not depend on d.
func (m MaxAbsT) survival() func(d float64) float64 {
	if m.bad() {
		return func(float64) float64 { return math.NaN() }
	}
	if len(m.Lambda) == 1 {
		return func(d float64) float64 { return twoSidedT(max(0, d), m.Nu) }
	}
	fs, step := m.factors(), 0.2
	for _, f := range fs {
		step = min(step, 0.2*f.r/f.b)
	}
	step = max(step, 0.01)
	grid := newSDGrid(m.Nu)
	return func(d float64) float64 {
		if math.IsNaN(d) {
			return d
		}
		d = max(0, d)
		return grid.mean(func(s float64) float64 {
			sum, ds, weight := 0.0, d*s, step // the integrand is even in z: z = 0 once, all others twice
			for z := 0.0; z <= 10; z += step {
				log := 0.0 // of the product; 1 − product by expm1 keeps the digits of a small tail
				for _, f := range fs {
					outside := normalCDF((-ds-f.b*z)/f.r) + normalCDF((-ds+f.b*z)/f.r)
					log += f.times * math.Log1p(-outside)
				}
				sum -= float64(weight * normalPDF(z) * math.Expm1(log))
				weight = 2 * step
			}
			return min(1, sum)
		})
	}
}
