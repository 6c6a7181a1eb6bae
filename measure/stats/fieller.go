package stats

import (
	"math"

	"traygauge/measure/stats/dist"
)

// MeanRatio is a ratio of two means with its interval. Where the mean below the line may be 0, the interval has no ends and Bounded is
// false.
type MeanRatio struct {
	Group   string  `json:"group"`
	Ratio   float64 `json:"ratio"`
	Bounded bool    `json:"bounded"`
	Lower   float64 `json:"lower"`
	Upper   float64 `json:"upper"`
}

// fiellerRatio returns the interval of a/b, where a and b are independent estimates with variances va and vb, and critical is the
// quantile that |a − r·b|/√(va + r²vb) is held against (Fieller 1954, J. R. Stat. Soc. B 16, 175-185): with g = critical²·vb/b²,
//
//	{r ± critical/|b|·√[(1−g)·va + r²·vb]} / (1−g)    for g < 1
func fiellerRatio(a, va, b, vb, critical float64) MeanRatio {
	q := MeanRatio{Ratio: a / b, Lower: math.NaN(), Upper: math.NaN()}
	g := critical * critical * vb / (b * b)
	if !(g < 1) {
		return q
	}
	half := critical / math.Abs(b) * math.Sqrt((1-g)*va+q.Ratio*q.Ratio*vb)
	q.Bounded, q.Lower, q.Upper = true, (q.Ratio-half)/(1-g), (q.Ratio+half)/(1-g)
	return q
}

// Fieller returns each other group's mean as a ratio to the control's, all with one variance, each interval taken alone; offset is what was
// taken off the values before.
func Fieller(offset float64, groups []Group, control string, level float64) ([]MeanRatio, error) {
	ms, a, err := pooled(groups)
	if err != nil {
		return nil, err
	}
	zero, err := indexOf(groups, control)
	if err != nil {
		return nil, err
	}
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	critical := dist.TwoSidedTQuantile(1-level, float64(a.DFWithin))
	var qs []MeanRatio
	for i, m := range ms {
		if i != zero {
			q := fiellerRatio(m.mean()+offset, a.MSWithin/m.n, ms[zero].mean()+offset, a.MSWithin/ms[zero].n, critical)
			q.Group = groups[i].Name
			qs = append(qs, q)
		}
	}
	return qs, nil
}
