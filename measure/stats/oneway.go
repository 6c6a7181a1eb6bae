package stats

import (
	"math"

	"traygauge/measure/stats/dist"
)

// ANOVA is a one-way analysis of variance: groups with one common variance.
type ANOVA struct {
	DFBetween    int     `json:"df_between"`
	DFWithin     int     `json:"df_within"`
	SSBetween    float64 `json:"ss_between"`
	SSWithin     float64 `json:"ss_within"`
	MSBetween    float64 `json:"ms_between"`
	MSWithin     float64 `json:"ms_within"`
	F            float64 `json:"f"`
	P            float64 `json:"p"`
	SDPooled     float64 `json:"sd_pooled"`     // √MSWithin
	EtaSquared   float64 `json:"eta_squared"`   // SSBetween / (SSBetween + SSWithin), the R² of the groups
	OmegaSquared float64 `json:"omega_squared"` // the same with its bias taken off (Hays 1963): may fall below 0
}

// FTest is an F with its degrees of freedom and p.
type FTest struct {
	F   float64 `json:"f"`
	DF1 float64 `json:"df1"`
	DF2 float64 `json:"df2"`
	P   float64 `json:"p"`
}

// oneWay tests whether any of the groups' means differ, all with one variance (Fisher 1925). Groups of one value are allowed as long as
// another has more: ErrNoReplicates if none has, ErrNoVariation if no group's values vary.
func oneWay(groups []Group) (ANOVA, error) {
	ms, a, err := pooled(groups)
	if err != nil {
		return ANOVA{}, err
	}
	a.SSBetween = between(ms)
	a.MSBetween = a.SSBetween / float64(a.DFBetween)
	a.F = a.MSBetween / a.MSWithin
	a.P = dist.UpperF(a.F, float64(a.DFBetween), float64(a.DFWithin))
	total := a.SSBetween + a.SSWithin
	a.EtaSquared = a.SSBetween / total
	a.OmegaSquared = (a.SSBetween - float64(a.DFBetween)*a.MSWithin) / (total + a.MSWithin)
	return a, nil
}

// pooled checks the groups and returns their moments about one pivot, and the common variance.
func pooled(groups []Group) (ms []moments, a ANOVA, err error) {
	if err := check(groups); err != nil {
		return nil, a, err
	}
	var within compensated
	n, scale := 0, 0.0
	for _, g := range groups {
		m := momentsAbout(groups[0].Values[0], g.Values)
		ms, n, scale = append(ms, m), n+len(g.Values), max(scale, m.scale)
		within.add(m.squares)
	}
	a.DFBetween, a.DFWithin, a.SSWithin = len(groups)-1, n-len(groups), within.sum()
	switch {
	case a.DFWithin == 0:
		return nil, a, errNoReplicates
	case flat(a.SSWithin, float64(n), scale):
		return nil, a, errNoVariation
	}
	a.MSWithin = a.SSWithin / float64(a.DFWithin)
	a.SDPooled = math.Sqrt(a.MSWithin)
	return ms, a, nil
}

// between returns Σ nᵢ(mᵢ − m)², with m the mean of all values; the moments share their pivot.
func between(ms []moments) float64 {
	var all, squares compensated
	n := 0.0
	for _, m := range ms {
		all.add(float64(m.n * m.shift))
		n += m.n
	}
	mean := all.sum() / n
	for _, m := range ms {
		d := m.shift - mean
		squares.add(float64(m.n * d * d))
	}
	return squares.sum()
}

// welchANOVA tests whether any of the groups' means differ, each with its own variance (Welch 1951, Biometrika 38, 330-336): with
// wᵢ = nᵢ/sᵢ², W = Σwᵢ, m = Σwᵢmᵢ/W and Λ = Σ(1 − wᵢ/W)²/(nᵢ−1),
//
//	F = Σwᵢ(mᵢ − m)²/(k−1) / [1 + 2(k−2)Λ/(k²−1)]    df₂ = (k²−1)/(3Λ)
func welchANOVA(groups []Group) (FTest, error) {
	if err := checkEach(groups); err != nil {
		return FTest{}, err
	}
	k, total, mean := float64(len(groups)), 0.0, 0.0
	ms, w := make([]moments, len(groups)), make([]float64, len(groups))
	for i, g := range groups {
		ms[i] = momentsAbout(groups[0].Values[0], g.Values)
		w[i] = ms[i].n / ms[i].variance()
		total += w[i]
		mean += float64(w[i] * ms[i].shift)
	}
	mean /= total
	squares, lambda := 0.0, 0.0
	for i, m := range ms {
		squares += float64(w[i] * (m.shift - mean) * (m.shift - mean))
		lambda += float64((1 - w[i]/total) * (1 - w[i]/total) / (m.n - 1))
	}
	t := FTest{F: squares / (k - 1) / (1 + 2*(k-2)*lambda/(k*k-1)), DF1: k - 1, DF2: (k*k - 1) / (3 * lambda)}
	t.P = dist.UpperF(t.F, t.DF1, t.DF2)
	return t, nil
}
