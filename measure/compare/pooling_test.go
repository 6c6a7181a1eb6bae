package compare

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/stats/dist"
)

// False alarms of families of one to df − 1 comparisons (one where df is 2) by integration over the distribution of the trays' scatter, a chi-squared, for variances
// between trays of nothing to twenty times their floor: 5.55 of 100 at most whatever the trays' variance is, and where they do not vary more than
// their plugs make them 2.4 at least, 2.8 from eight degrees of freedom on, 3.3 from sixteen.
func TestFalseAlarmsOfPooling(t *testing.T) {
	const cells = 600
	for _, df := range []int{2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 20, 30} {
		scatter := distuv.ChiSquared{K: float64(df)}
		most, least := 0.0, 1.0
		for k := 1; k <= min(10, max(1, df-1)); k++ {
			normal := dist.MaxAbsT{Lambda: slices.Repeat([]float64{0.5}, k), Nu: math.Inf(1)}
			trays := dist.MaxAbsT{Lambda: normal.Lambda, Nu: float64(df)}.Quantile(outcome.Level)
			plugs := normal.Quantile(outcome.Level)
			rate := func(times float64) float64 { // of trays whose variance is so many times the floor
				sum := 0.0
				for i := range cells {
					s2 := times * scatter.Quantile((float64(i)+0.5)/cells) / float64(df)
					critical := trays
					if s2 < poolBelow(df) {
						critical = plugs
					}
					sum += normal.Survival(critical*math.Sqrt(math.Max(s2, 1)/times)) / cells
				}
				return sum
			}
			for _, times := range []float64{1, 1.2, 1.5, 2, 2.5, 3, 4, 6, 10, 20} {
				most = math.Max(most, rate(times))
			}
			least = math.Min(least, rate(1))
		}
		wanted := 0.0
		for from, at := range map[int]float64{2: 0.0235, 8: 0.028, 16: 0.033} {
			if df >= from {
				wanted = math.Max(wanted, at)
			}
		}
		t.Logf("%2d degrees of freedom: false alarms %.2f to %.2f %%, pooled below %.2f of the floor", df, 100*least, 100*most, poolBelow(df))
		if most > 0.0555 || least < wanted {
			t.Errorf("%d degrees of freedom: false alarms in %.4f to %.4f of trials", df, least, most)
		}
	}
}
