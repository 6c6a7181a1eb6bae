package stats

import (
	"errors"
	"math"
	"slices"

	"traygauge/measure/stats/dist"
)

// ChiSquaredTest is a statistic that follows a χ² with DF degrees of freedom.
type ChiSquaredTest struct {
	Statistic float64 `json:"statistic"`
	DF        float64 `json:"df"`
	P         float64 `json:"p"`
}

// Centre is what deviations are taken from.
type Centre int

// BrownForsythe takes deviations from the median, which stands up to skewed values; LeveneMean from the mean.
const (
	BrownForsythe Centre = iota
	LeveneMean
)

// Levene tests whether the groups' spreads differ: a one-way analysis of |x − centre| (Levene 1960; with the median Brown & Forsythe
// 1974, JASA 69, 364-367). In groups of two the deviations are equal but for rounding, so groups of two alone are refused.
func Levene(groups []Group, centre Centre) (FTest, error) {
	if err := check(groups); err != nil {
		return FTest{}, err
	}
	alike := errors.New("the groups’ spreads cannot be compared, because all values are equally far from the middle of their group; this is always so in groups of one or two values")
	if !slices.ContainsFunc(groups, func(g Group) bool { return len(g.Values) > 2 }) {
		return FTest{}, alike
	}
	deviations := make([]Group, len(groups))
	for i, g := range groups {
		m := momentsOf(g.Values)
		middle, pivot := m.shift, m.pivot
		if centre == BrownForsythe {
			middle, pivot = 0, Median(g.Values)
		}
		deviations[i].Name = g.Name
		for _, v := range g.Values {
			deviations[i].Values = append(deviations[i].Values, math.Abs((v-pivot)-middle))
		}
	}
	a, err := oneWay(deviations)
	if err != nil {
		return FTest{}, alike
	}
	return FTest{a.F, float64(a.DFBetween), float64(a.DFWithin), a.P}, nil
}

// bartlett tests whether the groups' variances differ (Bartlett 1937, Proc. R. Soc. A 160, 268-282). It takes long tails for spread:
// with other than normal values use Levene.
func bartlett(groups []Group) (ChiSquaredTest, error) {
	if err := checkEach(groups); err != nil {
		return ChiSquaredTest{}, err
	}
	k, df, squares, logs, inverse := float64(len(groups)), 0.0, 0.0, 0.0, 0.0
	for _, g := range groups {
		m := momentsOf(g.Values)
		df += m.n - 1
		squares += m.squares
		logs += float64((m.n - 1) * math.Log(m.variance()))
		inverse += 1 / (m.n - 1)
	}
	x := (df*math.Log(squares/df) - logs) / (1 + (inverse-1/df)/(3*(k-1)))
	return ChiSquaredTest{x, k - 1, dist.UpperChiSquared(x, k-1)}, nil
}
