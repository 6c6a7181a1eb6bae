package dist

import (
	"math"
	"testing"

	"traygauge/measure/stats/published"
)

// The quantiles q of testdata/refs/tables/tukey.csv were calculated by double integration in Python; scipy 1.10.1's
// stats.studentized_range beside them agrees to 2e-11. They are printed to 8 decimals.
func TestStudentizedRangeQuantiles(t *testing.T) {
	for _, row := range published.ReadCSV(t, "tables/tukey.csv") {
		k, p, q := published.Number(t, row["k"]), published.Number(t, row["p"]), published.Number(t, row["q"])
		d := StudentizedRange{int(k), published.Number(t, row["df"])}
		published.Near(t, "q of "+row["p"]+", k "+row["k"]+", df "+row["df"], d.Quantile(p), q, 6e-9, 0)
		published.Near(t, "CDF at that q", 1-d.Survival(q), p, 1e-9, 0)
		if printed := row["printed_table_from_memory"]; printed != "" { // textbook tables, from memory, two decimals
			published.Near(t, "the textbook's", d.Quantile(p), published.Number(t, printed), 0.0061, 0)
		}
	}
}

// Two-sided d(0.95) with equal n, from the double integral in Python, 8 decimals; the coverage of each by mvtnorm 1.1-3's pmvt is in
// the file.
func TestDunnettQuantilesOfEqualGroups(t *testing.T) {
	for _, row := range published.ReadCSV(t, "tables/dunnett_equal.csv") {
		k, p, want := published.Number(t, row["k"]), published.Number(t, row["p"]), published.Number(t, row["d"])
		n := make([]int, int(k))
		for i := range n {
			n[i] = 7 // any: only n/(n+n₀) counts
		}
		d := ManyToOne(7, n, published.Number(t, row["df"]))
		published.Near(t, "d, k "+row["k"]+", df "+row["df"], d.Quantile(p), want, 6e-9, 0)
		published.Near(t, "CDF at that d", 1-d.Survival(want), p, 1e-9, 0)
		if printed := row["printed_table_from_memory"]; printed != "" {
			published.Near(t, "the textbook's", d.Quantile(p), published.Number(t, printed), 0.0061, 0)
		}
	}
}

// The same with unequal n, from the double integral in R 4.2.2, 15 digits.
func TestDunnettQuantilesOfUnequalGroups(t *testing.T) {
	var refs []struct {
		NControl    int   `json:"n_control"`
		NTreatments []int `json:"n_treatments"`
		DF          float64
		D95, D99    float64
	}
	published.ReadJSON(t, "tables/dunnett_unequal.json", &refs)
	for _, r := range refs {
		d := ManyToOne(r.NControl, r.NTreatments, r.DF)
		published.Near(t, "d95", d.Quantile(0.95), r.D95, 1e-9, 0)
		published.Near(t, "d99", d.Quantile(0.99), r.D99, 1e-8, 0)
	}
}

// Known in closed form: two groups are one t test, P(W > w) of two normal values is erfc(w/2), independent comparisons multiply,
// and, with one common Z that is everything (λ → 1), the maximum is a single |T|.
func TestDistributionsMeetClosedForms(t *testing.T) {
	for _, nu := range []float64{1, 2, 3.7, 9, 40, 1000, 1e6, math.Inf(1)} {
		q := 2.9
		published.Near(t, "K=2", StudentizedRange{2, nu}.Survival(q), TwoSidedT(q/math.Sqrt2, nu), 0, 1e-10)
		grid := newSDGrid(nu)
		// The square of s has mean 1 and variance 2/ν.
		published.Near(t, "mean of s²", sum(grid, func(s float64) float64 { return s * s }), 1, 1e-9, 0)
		if !math.IsInf(nu, 1) {
			published.Near(t, "variance of s²", sum(grid, func(s float64) float64 { return (s*s - 1) * (s*s - 1) }), 2/nu, 0, 1e-6)
		}
		// By the same integral as K > 2, against the t distribution.
		published.Near(t, "erfc over s", grid.mean(func(s float64) float64 { return math.Erfc(q * s / math.Sqrt2) }), TwoSidedT(q, nu), 0, 1e-9)
		for _, d := range []float64{0.5, 2, 4, 8} {
			two := MaxAbsT{[]float64{0, 0}, math.Inf(1)}
			one := math.Erfc(d / math.Sqrt2)
			published.Near(t, "independent", two.Survival(d), 1-(1-one)*(1-one), 1e-15, 1e-10)
			if d < 5 { // beyond, 1 − (1−p)² above is rounding
				together := MaxAbsT{[]float64{1, 1, 1}, nu}
				published.Near(t, "nearly one", together.Survival(d), TwoSidedT(d, nu), 0.02, 0) // λ is taken as 0.999
			}
		}
	}
}

func sum(g sdGrid, f func(float64) float64) (total float64) {
	for i, s := range g.s {
		total += g.w[i] * f(s)
	}
	return total
}

func TestDistributionsAreOrderedAndInvert(t *testing.T) {
	for _, nu := range []float64{1, 2, 7.5, 30, math.Inf(1)} {
		for _, k := range []int{3, 200} {
			lambda := make([]float64, k)
			for i := range lambda {
				lambda[i] = []float64{0.5, 0.3, 0.9}[i%3]
			}
			for _, alpha := range []float64{0.05, 1e-6} {
				r, m := StudentizedRange{k, nu}, MaxAbsT{lambda, nu}
				published.Near(t, "range there and back", r.Survival(r.UpperQuantile(alpha)), alpha, 0, 1e-8)
				published.Near(t, "max |t| there and back", m.Survival(m.UpperQuantile(alpha)), alpha, 0, 1e-8)
				// A maximum exceeds one comparison's value, and not Bonferroni's bound.
				d := m.UpperQuantile(alpha)
				if p := TwoSidedT(d, nu); !(p <= alpha*(1+1e-9) && float64(k)*p >= alpha*(1-1e-9)) {
					t.Errorf("nu %v k %d alpha %v: d = %v, one comparison's p %v", nu, k, alpha, d, p)
				}
			}
		}
	}
}

func TestDistributionsOfNothingAreUndefined(t *testing.T) {
	for what, v := range map[string]float64{
		"one group": StudentizedRange{1, 5}.Survival(2), "no df": StudentizedRange{3, 0}.Survival(2), "NaN": StudentizedRange{3, 5}.Survival(math.NaN()),
		"no comparison": MaxAbsT{nil, 5}.Survival(2), "λ above 1": MaxAbsT{[]float64{1.1, 0.5}, 5}.Survival(2), "p of 1": MaxAbsT{[]float64{0.5}, 5}.Quantile(1),
		"p of 0": StudentizedRange{3, 5}.Quantile(0), "d NaN": MaxAbsT{[]float64{0.5, 0.5}, 5}.Survival(math.NaN()),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: %v, want NaN", what, v)
		}
	}
	published.Near(t, "no spread at all", StudentizedRange{3, 5}.Survival(0), 1, 0, 0)
	published.Near(t, "infinite", StudentizedRange{3, 5}.Survival(math.Inf(1)), 0, 0, 0)
	published.Near(t, "infinite", ManyToOne(3, []int{3, 3}, 5).Survival(math.Inf(1)), 0, 0, 0)
}
