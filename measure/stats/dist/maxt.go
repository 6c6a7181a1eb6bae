package dist

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
// above 0.999 is taken as 0.999, which errs on the side of caution, as less correlation makes the maximum larger (Šidák 1968,
// Ann. Math. Stat. 39, 1425-1434). So do more than 24 different λ, each taken as the fiftieth below it.
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
func (m MaxAbsT) Survival(d float64) float64 { return m.survival(m.curve())(d) }

// Quantile returns the d that max|T| does not exceed with probability p: the critical value.
func (m MaxAbsT) Quantile(p float64) float64 { return m.UpperQuantile(1 - p) }

// UpperQuantile returns the d that max|T| exceeds with probability alpha, above 0 and below 1.
func (m MaxAbsT) UpperQuantile(alpha float64) float64 {
	return m.upperQuantile(m.curve(), alpha)
}

func (m MaxAbsT) upperQuantile(c *curve, alpha float64) float64 {
	if m.bad() || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	one := TwoSidedTQuantile(alpha, m.Nu)
	if len(m.Lambda) == 1 {
		return one
	}
	return c.quantile(alpha, m.Nu, one, TwoSidedTQuantile(alpha/float64(len(m.Lambda)), m.Nu))
}

func (m MaxAbsT) bad() bool {
	return len(m.Lambda) == 0 || !(m.Nu > 0) || slices.ContainsFunc(m.Lambda, func(l float64) bool { return !(l >= 0 && l <= 1) })
}

// factor is one λ and how often it occurs: equal sizes are calculated once.
type factor struct{ b, r, times float64 }

// many is how many different λ are worked with as they are. Of more, each is rounded down to a fiftieth, on the side of caution.
const many = 24

func (m MaxAbsT) factors() (fs []factor) {
	sorted := slices.Sorted(slices.Values(m.Lambda))
	if len(slices.Compact(slices.Clone(sorted))) > many {
		for i, l := range sorted {
			sorted[i] = min(0.98, math.Floor(50*l)/50)
		}
	}
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

// survival is P(max|T| > d), from the curve of infinitely many degrees of freedom.
func (m MaxAbsT) survival(c *curve) func(d float64) float64 {
	switch {
	case m.bad():
		return func(float64) float64 { return math.NaN() }
	case len(m.Lambda) == 1:
		return func(d float64) float64 { return TwoSidedT(max(0, d), m.Nu) }
	}
	grid := newSDGrid(m.Nu)
	return func(d float64) float64 { return c.studentised(grid, d) }
}

// curve is P(max|T| > d) of infinitely many degrees of freedom.
func (m MaxAbsT) curve() *curve {
	if m.bad() || len(m.Lambda) == 1 {
		return nil // one comparison is one t
	}
	fs := m.factors()
	return keptCurve(func() *curve { return maxCurve(fs) }, fs)
}

func maxCurve(fs []factor) *curve {
	step, sharpest := 0.2, 1.0
	for _, f := range fs {
		step, sharpest = min(step, 0.2*f.r/f.b), min(sharpest, f.r)
	}
	step = max(step, 0.01)
	return newCurve(min(0.04, sharpest/5), func(d float64) float64 {
		sum, weight := 0.0, step // the integrand is even in z: z = 0 once, all others twice
		for z := 0.0; z <= 10; z += step {
			log := 0.0 // of the product; 1 − product by expm1 keeps the digits of a small tail
			for _, f := range fs {
				outside := NormalCDF((-d-f.b*z)/f.r) + NormalCDF((-d+f.b*z)/f.r)
				log += f.times * math.Log1p(-outside)
			}
			sum -= float64(weight * normalPDF(z) * math.Expm1(log))
			weight = 2 * step
		}
		return min(1, sum)
	})
}
