package stats

import (
	"math"

	"traygauge/measure/stats/dist"
)

// Comparison is one group set against another.
type Comparison struct {
	A        string  `json:"a"`
	B        string  `json:"b"` // the control, where there is one
	Estimate float64 `json:"estimate"`
	SE       float64 `json:"se"`
	T        float64 `json:"t"`
	DF       float64 `json:"df"`
	P        float64 `json:"p"`     // of this comparison taken alone
	PAdj     float64 `json:"p_adj"` // as one of all that were made
	Lower    float64 `json:"lower"` // all intervals hold at once with the level's probability
	Upper    float64 `json:"upper"`
}

// Comparisons are all comparisons that were made, and how.
type Comparisons struct {
	Method   string       `json:"method"`
	Control  string       `json:"control"` // "" where every pair was compared
	Level    float64      `json:"level"`
	Critical float64      `json:"critical"` // what |t| has to exceed; NaN where each comparison has its own, or none
	All      []Comparison `json:"comparisons"`
}

// Ratio is a comparison of logarithms, read as a ratio a/b of geometric means.
type Ratio struct {
	A     string  `json:"a"`
	B     string  `json:"b"`
	Ratio float64 `json:"ratio"`
	Lower float64 `json:"lower"`
	Upper float64 `json:"upper"`
	PAdj  float64 `json:"p_adj"`
}

// ratios reads differences of logarithms as ratios.
func (c Comparisons) ratios() []Ratio {
	rs := make([]Ratio, len(c.All))
	for i, d := range c.All {
		rs[i] = Ratio{d.A, d.B, math.Exp(d.Estimate), math.Exp(d.Lower), math.Exp(d.Upper), d.PAdj}
	}
	return rs
}

// compared fills in a comparison but for its adjusted p; half is the interval's half width in standard errors.
func compared(a, b string, estimate, se, df, half float64) Comparison {
	c := Comparison{A: a, B: b, Estimate: estimate, SE: se, T: estimate / se, DF: df, Lower: estimate - half*se, Upper: estimate + half*se}
	c.P = dist.TwoSidedT(c.T, df)
	return c
}

// detectable returns the difference that a comparison like this one, with the same standard error, degrees of freedom and critical value, shows
// with the given power. It is NaN where the comparison has no standard error, as by ranks.
func (c Comparison) detectable(power float64) float64 {
	critical := (c.Upper - c.Estimate) / c.SE
	if !(c.SE > 0) || !(critical > 0) || math.IsInf(critical, 1) {
		return math.NaN()
	}
	return Noncentrality(critical, c.DF, power) * c.SE
}
