package stats

import (
	"fmt"
	"math"

	"traygauge/measure/stats/dist"
)

// How comparisons were made, as reports name it.
const (
	dunnettMethod     = "Dunnett"
	tukeyMethod       = "Tukey-Kramer"
	welchManyMethod   = "Welch t, multivariate t"
	gamesHowellMethod = "Games-Howell"
	rankManyMethod    = "Wilcoxon rank sum, Holm"
)

// dunnett compares every other group with the control, all with one variance (Dunnett 1955, JASA 50, 1096-1121): two-sided, in a
// single step. Estimates are group − control; unequal n are exact.
func dunnett(groups []Group, control string, level float64) (Comparisons, error) {
	c := Comparisons{Method: dunnettMethod, Control: control, Level: level, Critical: math.NaN()}
	ms, a, err := pooled(groups)
	if err != nil {
		return c, err
	}
	zero, err := indexOf(groups, control)
	if err != nil {
		return c, err
	}
	if err := checkLevel(level); err != nil {
		return c, err
	}
	largest := dist.MaxAbsT{Nu: float64(a.DFWithin)}
	for i, m := range ms {
		if i != zero {
			largest.Lambda = append(largest.Lambda, m.n/(m.n+ms[zero].n))
		}
	}
	critical := largest.UpperQuantile(1 - level)
	c.Critical = critical
	for i, m := range ms {
		if i != zero {
			se := a.SDPooled * math.Sqrt(1/m.n+1/ms[zero].n)
			d := compared(groups[i].Name, control, m.shift-ms[zero].shift, se, largest.Nu, critical)
			d.PAdj = largest.Survival(math.Abs(d.T))
			c.All = append(c.All, d)
		}
	}
	return c, nil
}

// tukeyKramer compares every pair of groups, all with one variance (Tukey 1953; for unequal n Kramer 1956, Biometrics 12, 307-310, there
// on the safe side: Hayter 1984, Ann. Stat. 12, 61-75). Estimates are the later group − the earlier.
func tukeyKramer(groups []Group, level float64) (Comparisons, error) {
	c := Comparisons{Method: tukeyMethod, Level: level, Critical: math.NaN()}
	ms, a, err := pooled(groups)
	if err != nil {
		return c, err
	}
	if err := checkLevel(level); err != nil {
		return c, err
	}
	largest := dist.StudentizedRange{K: len(groups), Nu: float64(a.DFWithin)}
	critical := largest.UpperQuantile(1-level) / math.Sqrt2
	c.Critical = critical
	eachPair(groups, func(i, j int) {
		se := a.SDPooled * math.Sqrt(1/ms[i].n+1/ms[j].n)
		d := compared(groups[j].Name, groups[i].Name, ms[j].shift-ms[i].shift, se, largest.Nu, critical)
		d.PAdj = largest.Survival(math.Abs(d.T) * math.Sqrt2)
		c.All = append(c.All, d)
	})
	return c, nil
}

// eachPair calls f with every i < j.
func eachPair(groups []Group, f func(i, j int)) {
	for i := range groups {
		for j := i + 1; j < len(groups); j++ {
			f(i, j)
		}
	}
}

// welchT returns the estimate b − a, its standard error and Satterthwaite's degrees of freedom (Welch 1947, Biometrika 34, 28-35).
func welchT(a, b moments) (estimate, se, df float64) {
	va, vb := a.variance()/a.n, b.variance()/b.n
	v := va + vb
	return b.shift - a.shift, math.Sqrt(v), v * v / (va*va/(a.n-1) + vb*vb/(b.n-1))
}

// gamesHowell compares every pair of groups, each with its own variance (Games & Howell 1976, J. Educ. Stat. 1, 113-125): Welch's t
// of each pair, judged by the studentized range with that pair's degrees of freedom.
func gamesHowell(groups []Group, level float64) (Comparisons, error) {
	c := Comparisons{Method: gamesHowellMethod, Level: level, Critical: math.NaN()}
	if err := checkEach(groups); err != nil {
		return c, err
	}
	if err := checkLevel(level); err != nil {
		return c, err
	}
	ms := sharedMoments(groups)
	eachPair(groups, func(i, j int) {
		estimate, se, df := welchT(ms[i], ms[j])
		largest := dist.StudentizedRange{K: len(groups), Nu: df}
		d := compared(groups[j].Name, groups[i].Name, estimate, se, df, largest.UpperQuantile(1-level)/math.Sqrt2)
		d.PAdj = largest.Survival(math.Abs(d.T) * math.Sqrt2)
		c.All = append(c.All, d)
	})
	return c, nil
}

// welchToControl compares every other group with the control, each with its own variance: Welch's t, judged by a multivariate t with
// that comparison's degrees of freedom and the correlations that the sample variances give, λᵢ = v₀/(vᵢ + v₀) with v = s²/n (Hasler &
// Hothorn 2008, Biom. J. 50, 793-800).
func welchToControl(groups []Group, control string, level float64) (Comparisons, error) {
	c := Comparisons{Method: welchManyMethod, Control: control, Level: level, Critical: math.NaN()}
	if err := checkEach(groups); err != nil {
		return c, err
	}
	zero, err := indexOf(groups, control)
	if err != nil {
		return c, err
	}
	if err := checkLevel(level); err != nil {
		return c, err
	}
	ms := sharedMoments(groups)
	v0 := ms[zero].variance() / ms[zero].n
	var lambda []float64
	for i, m := range ms {
		if i != zero {
			lambda = append(lambda, v0/(m.variance()/m.n+v0))
		}
	}
	for i, m := range ms {
		if i != zero {
			estimate, se, df := welchT(ms[zero], m)
			largest := dist.MaxAbsT{Lambda: lambda, Nu: df}
			d := compared(groups[i].Name, control, estimate, se, df, largest.UpperQuantile(1-level))
			d.PAdj = largest.Survival(math.Abs(d.T))
			c.All = append(c.All, d)
		}
	}
	return c, nil
}

// sharedMoments takes all groups about one pivot, so that their shifts can be compared.
func sharedMoments(groups []Group) []moments {
	ms := make([]moments, len(groups))
	for i, g := range groups {
		ms[i] = momentsAbout(groups[0].Values[0], g.Values)
	}
	return ms
}

// ContrastResult is a weighted sum of group means.
type ContrastResult struct {
	Estimate float64 `json:"estimate"`
	SE       float64 `json:"se"`
	DF       float64 `json:"df"`
	T        float64 `json:"t"`
	P        float64 `json:"p"`
	Lower    float64 `json:"lower"`
	Upper    float64 `json:"upper"`
}

// Contrast estimates Σ wᵢmᵢ, all groups with one variance, taken alone (not adjusted for other comparisons). The interaction of a
// 2 × 2 of neither, a, b and both has the weights 1, −1, −1, 1: what both give beyond the sum of their parts; of logarithms, beyond
// the product of their ratios. The weights add up to 0.
func Contrast(groups []Group, weights []float64, level float64) (ContrastResult, error) {
	ms, a, err := pooled(groups)
	if err != nil {
		return ContrastResult{}, err
	}
	if err := checkLevel(level); err != nil {
		return ContrastResult{}, err
	}
	if len(weights) != len(groups) {
		return ContrastResult{}, fmt.Errorf("%d weights for %d groups", len(weights), len(groups))
	}
	total, estimate, v, size := 0.0, 0.0, 0.0, 0.0
	for i, w := range weights {
		total, size = total+w, size+math.Abs(w)
		estimate += float64(w * ms[i].shift)
		v += w * w / ms[i].n
	}
	if !(math.Abs(total) <= 1e-9*size) || size == 0 {
		return ContrastResult{}, fmt.Errorf("the weights of a contrast add up to 0; these add up to %v", total)
	}
	half := dist.TwoSidedTQuantile(1-level, float64(a.DFWithin))
	d := compared("", "", estimate, a.SDPooled*math.Sqrt(v), float64(a.DFWithin), half)
	return ContrastResult{d.Estimate, d.SE, d.DF, d.T, d.P, d.Lower, d.Upper}, nil
}
