package compare

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/stats/dist"
)

// timesFloor are variances between trays, as multiples of their floor, from trays that vary no more than their plugs make them.
var timesFloor = []float64{1, 1.2, 1.5, 2, 2.5, 3, 4, 6, 10, 20}

// family is k comparisons with one control: how often the largest of them exceeds a limit, and its limits by the plugs' and by the trays' scatter.
type family struct {
	exceeds      dist.MaxAbsT
	plugs, trays float64
}

func familyOf(df, k int) family {
	normal := dist.MaxAbsT{Lambda: slices.Repeat([]float64{0.5}, k), Nu: math.Inf(1)}
	return family{normal, normal.Quantile(outcome.Level), dist.MaxAbsT{Lambda: normal.Lambda, Nu: float64(df)}.Quantile(outcome.Level)}
}

// False alarms by integration over the distribution of the trays' scatter, a chi-squared, for variances between trays of nothing to twenty times
// their floor: 5.5 of 100 at most whatever the trays' variance is. Where they do not vary more than their plugs make them: 3 at least for
// one comparison from four degrees of freedom on, for two or three from eight on, for up to nine from twelve on.
func TestFalseAlarmsOfPooling(t *testing.T) {
	const cells = 600
	for _, df := range []int{2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 30, 50} {
		scatter := distuv.ChiSquared{K: float64(df)}
		for _, k := range []int{1, 2, 3, 4, 5, 9, 19} {
			f := familyOf(df, k)
			rate := func(times float64) float64 { // of trays whose variance is so many times the floor
				sum := 0.0
				for i := range cells {
					s2 := times * scatter.Quantile((float64(i)+0.5)/cells) / float64(df)
					critical := f.trays
					if s2 < poolBelow(df, k) {
						critical = f.plugs
					}
					sum += f.exceeds.Survival(critical*math.Sqrt(math.Max(s2, 1)/times)) / cells
				}
				return sum
			}
			most, none := 0.0, rate(1)
			for _, times := range timesFloor {
				most = math.Max(most, rate(times))
			}
			t.Logf("%2d degrees of freedom, %2d together: false alarms %.2f to %.2f %%, pooled below %.2f of the floor", df, k, 100*none, 100*most, poolBelow(df, k))
			enough := k == 1 && df >= 4 || k <= 3 && df >= 8 || k <= 9 && df >= 12
			if most > 0.055 || enough && none < 0.0295 {
				t.Errorf("%d degrees of freedom, %d together: false alarms in %.4f to %.4f of trials", df, k, none, most)
			}
		}
	}
}

// Two trays per treatment are judged as often wrongly as they can be: of all rules that judge by a critical value between that of the plugs' scatter
// and that of the trays', whatever they make it depend on, none that keeps to 5.5 of 100 for trays that vary has more where they do not. For any
// variance of v times the floor and any m ≥ 0
//
//	rate(1) ≤ 0.055·m + ∫ max over c of [P(alarm at c | s², 1)·f₁(s²) − m·P(alarm at c | s², v)·f_v(s²)] ds²
//
// (Lagrange's multiplier of the linear programme whose unknown is how often each c is used at each s²).
func TestNoRulePoolsBetter(t *testing.T) {
	for _, c := range []struct {
		df, k int
		bound float64
	}{{2, 1, 0.025}, {4, 3, 0.026}} {
		f, least := familyOf(c.df, c.k), 1.0
		scatter := distuv.ChiSquared{K: float64(c.df)}
		type chance struct{ calm, varied float64 }
		for _, v := range []float64{2, 2.5, 3, 4} {
			var cells [][]chance // by s², then by the critical value
			for s2 := 0.01; s2 < 30; s2 += 0.02 + s2/50 {
				width := 0.02 + s2/50
				density := func(times float64) float64 {
					df := float64(c.df)
					return scatter.CDF((s2+width/2)*df/times) - scatter.CDF(max(0, s2-width/2)*df/times)
				}
				calm, varied := density(1), density(v)
				var at []chance
				for step := range 9 {
					critical := f.plugs + (f.trays-f.plugs)*float64(step)/8
					at = append(at, chance{calm * f.exceeds.Survival(critical*math.Sqrt(max(s2, 1))), varied * f.exceeds.Survival(critical*math.Sqrt(max(s2, 1)/v))})
				}
				cells = append(cells, at)
			}
			for m := 0.0; m < 1.5; m += 0.01 {
				bound := 0.055 * m
				for _, at := range cells {
					best := math.Inf(-1)
					for _, p := range at {
						best = math.Max(best, p.calm-m*p.varied)
					}
					bound += best
				}
				least = math.Min(least, bound)
			}
		}
		t.Logf("%d degrees of freedom, %d together: at most %.2f %%", c.df, c.k, 100*least)
		if least > c.bound {
			t.Errorf("%d degrees of freedom, %d together: a rule may have %.4f where trays do not vary", c.df, c.k, least)
		}
	}
}
