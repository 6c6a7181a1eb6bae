package stats

import (
	"math"
	"slices"

	"traygauge/measure/stats/dist"
)

// Adjustment is a way to adjust p-values for how many there are.
type Adjustment int

// Holm (1979) and Bonferroni keep the chance of any false alarm; BenjaminiHochberg (1995) the expected share of false ones.
const (
	Holm Adjustment = iota
	Bonferroni
	BenjaminiHochberg
)

// Adjust returns the adjusted p-values in the order of ps. A p that is not a number stays one and is not counted.
func Adjust(ps []float64, how Adjustment) []float64 {
	out := slices.Clone(ps)
	var order []int
	for i, p := range ps {
		if !math.IsNaN(p) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if ps[a] < ps[b] {
			return -1
		} else if ps[a] > ps[b] {
			return 1
		}
		return 0
	})
	m := float64(len(order))
	switch how {
	case Bonferroni:
		for _, i := range order {
			out[i] = min(1, m*ps[i])
		}
	case BenjaminiHochberg:
		low := 1.0
		for rank, i := range slices.Backward(order) {
			low = min(low, ps[i]*m/float64(rank+1))
			out[i] = low
		}
	default:
		high := 0.0
		for rank, i := range order {
			high = max(high, min(1, (m-float64(rank))*ps[i]))
			out[i] = high
		}
	}
	return out
}

// PairP is the p of two groups' t test and what the adjustments for all pairs make of it.
type PairP struct {
	A          string  `json:"a"`
	B          string  `json:"b"`
	P          float64 `json:"p"`
	Holm       float64 `json:"p_holm"`
	Bonferroni float64 `json:"p_bonferroni"`
	BH         float64 `json:"p_bh"`
}

// pairwiseT compares every pair by Student's t with one variance for all groups, or by Welch's t where each has its own.
func pairwiseT(groups []Group, ownVariances bool) ([]PairP, error) {
	var ms []moments
	var a ANOVA
	var err error
	if ownVariances {
		if err = checkEach(groups); err == nil {
			ms = sharedMoments(groups)
		}
	} else {
		ms, a, err = pooled(groups)
	}
	if err != nil {
		return nil, err
	}
	var pairs []PairP
	var ps []float64
	eachPair(groups, func(i, j int) {
		estimate, se, df := ms[j].shift-ms[i].shift, a.SDPooled*math.Sqrt(1/ms[i].n+1/ms[j].n), float64(a.DFWithin)
		if ownVariances {
			estimate, se, df = welchT(ms[i], ms[j])
		}
		pairs, ps = append(pairs, PairP{A: groups[j].Name, B: groups[i].Name}), append(ps, dist.TwoSidedT(estimate/se, df))
	})
	holm, bonferroni, bh := Adjust(ps, Holm), Adjust(ps, Bonferroni), Adjust(ps, BenjaminiHochberg)
	for i := range pairs {
		pairs[i].P, pairs[i].Holm, pairs[i].Bonferroni, pairs[i].BH = ps[i], holm[i], bonferroni[i], bh[i]
	}
	return pairs, nil
}
