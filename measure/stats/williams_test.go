package stats

import (
	"math"
	"testing"
)

// Upper 5 % points of Williams' t̄ with as many values in each group, as printed by Williams (1972, Biometrics 28, 519-531, table 1), typed from
// memory of the printed source: a plausibility check. The first column is Student's t.
func TestWilliamsAgainstThePrintedTable(t *testing.T) {
	for df, points := range map[float64][]float64{
		math.Inf(1): {1.645, 1.716, 1.739, 1.750},
		20:          {1.725, 1.807, 1.834, 1.847},
		10:          {1.812, 1.908, 1.940, 1.955},
		5:           {2.015, 2.142, 2.185, 2.204},
	} {
		for i, want := range points {
			n := make([]int, i+2)
			for k := range n {
				n[k] = 4
			}
			null := williamsNull(n, df)
			if got := null[int(0.95*float64(len(null)))]; math.Abs(got-want) > 0.02 { // drawn values are within some 0.006
				t.Errorf("%d doses, %g degrees of freedom: %.3f, printed %.3f", i+1, df, got, want)
			}
		}
	}
}

// By hand: means 10 | 12, 11, 15 of 4 each, variance 4. 12 and 11 break the order and do not touch the highest: t̄ = 5/√(4·(1/4+1/4)) = 3.536.
// With 12, 16, 14 the last two are pooled: 15, the same t̄. Falling doses give the same with the other sign, and doses that do not differ
// from the control nothing.
func TestWilliamsByHand(t *testing.T) {
	n := []int{4, 4, 4, 4}
	for _, c := range []struct {
		mean   []float64
		t      float64
		lowest int
	}{
		{[]float64{10, 12, 11, 15}, 5 / math.Sqrt2, 2},
		{[]float64{10, 12, 16, 14}, 5 / math.Sqrt2, 1},
		{[]float64{10, 8, 4, 6}, -5 / math.Sqrt2, 1},
		{[]float64{10, 10.1, 9.9, 10}, 0, -1},
	} {
		got, err := WilliamsTrend(c.mean, n, 4, 12, 0.05)
		if err != nil || math.Abs(got.T-c.t) > 0.08 || got.Lowest != c.lowest || (got.P < 0.05) != (c.lowest >= 0) {
			t.Errorf("%v: %+v (%v), want t %.3f, lowest %d", c.mean, got, err, c.t, c.lowest)
		}
	}
	for _, bad := range [][]float64{{1, 2}, {1, 2, 3}} {
		if _, err := WilliamsTrend(bad, []int{2, 2, 2}[:len(bad)], 0, 4, 0.05); err == nil {
			t.Errorf("%v is tested without scatter", bad)
		}
	}
}
