package compare

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/stats/dist"
)

// adjustment is how a comparison is judged when others are made at the same time.
type adjustment struct {
	test     string
	together int
	p        func(t, df float64) float64 // two-sided, of |t|
	critical func(df float64) float64    // t of the two-sided interval at Level
}

// single judges a comparison that was planned by itself.
var single = adjustment{"t", 1, dist.TwoSidedT, func(df float64) float64 { return dist.TwoSidedTQuantile(1-outcome.Level, df) }}

// judge fills in a comparison's estimate, interval, test and verdict.
func (l *layout) judge(c *outcome.Comparison, k contrast, a adjustment) {
	defer c.Settle()
	if l.Scale == outcome.Difference && math.Abs(k.estimate) <= arithmetic.Rounding*math.Max(math.Abs(float64(c.Mean)), math.Abs(float64(c.ControlMean))) {
		k.estimate = 0
	}
	c.Estimate = l.back(k.estimate)
	if l.angular {
		c.Estimate = arithmetic.Number(k.points)
	}
	c.MeasuringShare = arithmetic.Number(100 * k.measuring)
	if math.IsNaN(k.se) {
		c.Limits = append(c.Limits, fmt.Sprintf("no interval for %s: there is one tray on each side and no variation within the trays", l.Name))
		return
	}
	if k.se <= arithmetic.Rounding*math.Max(1, math.Abs(k.estimate)) { // not scatter
		c.MeasuringShare = reading.Missing
		c.Limits = append(c.Limits, fmt.Sprintf("no interval and no test for %s: trays treated alike, or plugs in a tray, are exactly equal, so there is no variation to test against", l.Name))
		return
	}
	half := k.se
	if c.Inference == outcome.TheseTraysOnly {
		half *= single.critical(k.df)
		c.DF, c.Together, c.ExplainedBy, c.Verdict = arithmetic.Number(k.df), 1, l.shown(k.explainedBy()), outcome.TheseTrays
		c.Lower, c.Upper = l.ends(k, half)
		return
	}
	half *= a.critical(k.df)
	t := math.Abs(k.estimate) / k.se
	c.Test, c.Together, c.DF = a.test, a.together, arithmetic.Number(k.df)
	c.PSingle, c.P = arithmetic.Number(dist.TwoSidedT(t, k.df)), arithmetic.Number(a.p(t, k.df))
	c.Lower, c.Upper = l.ends(k, half)
	switch {
	case k.estimate-half > 0:
		c.Verdict = outcome.More
	case k.estimate+half < 0:
		c.Verdict = outcome.Less
	default:
		c.Verdict = outcome.Unclear
	}
}

// ends returns an interval's ends as they are shown. Two shares cannot differ by more than 100 points. The difference of two shares and that by their
// angles are not quite the same where trays are empty or full; the interval holds both.
func (l *layout) ends(k contrast, half float64) (lower, upper reading.Number) {
	low, high := k.estimate-half, k.estimate+half
	if l.angular {
		return arithmetic.Number(math.Min(k.points, points(k.angles, low))), arithmetic.Number(math.Max(k.points, points(k.angles, high)))
	}
	if l.Unit == "%" && l.Scale == outcome.Difference {
		low, high = math.Max(low, -100), math.Min(high, 100)
	}
	return l.back(low), l.back(high)
}

// manyToOne judges each of a family of treatments against their common control.
func (l *layout) manyToOne(family []group, control group) adjustment {
	switch {
	case len(family) < 2 || !l.byTrays():
		return l.alone()
	case l.uneven:
		return l.welchToControl(family, control)
	case l.model != nil:
		return l.dunnettWithin(family, control)
	}
	counts := make([]int, len(family))
	for j, g := range family {
		counts[j] = len(g.figures)
	}
	return l.dunnett(len(control.figures), counts)
}

func (l *layout) alone() adjustment {
	a := single
	if l.uneven {
		a.test = "Welch t"
	}
	return a
}

// everyPair judges all pairs among n treatments.
func (l *layout) everyPair(n int) adjustment {
	if n < 3 || !l.byTrays() {
		return l.alone()
	}
	a := l.tukey(n, n*(n-1)/2)
	if l.uneven {
		a.test = "Games-Howell" // the same range, with each pair's own variance and degrees of freedom
	}
	return a
}

// dunnett judges comparisons of treatments with one control, all by one variance (Dunnett 1955).
func (l *layout) dunnett(control int, counts []int) adjustment {
	return adjustment{"Dunnett", len(counts),
		func(t, df float64) float64 { return dist.ManyToOne(control, counts, df).Survival(t) },
		func(df float64) float64 {
			return l.memo.Get(fmt.Sprint("dunnett ", control, counts, df), func() float64 { return dist.ManyToOne(control, counts, df).Quantile(outcome.Level) })
		}}
}

// dunnettWithin judges the same where treatments are compared within places. Comparisons are then correlated as the places have it; all are
// taken to be correlated as little as any two of them, on the side of caution (Šidák 1968, Ann. Math. Stat. 39, 1425-1434).
func (l *layout) dunnettWithin(family []group, control group) adjustment {
	var all [][]float64
	for _, g := range family {
		all = append(all, l.weights(term{g, 1}, term{control, -1}))
	}
	least := 1.0
	for i, a := range all {
		for _, b := range all[:i] {
			least = math.Min(least, dot(a, b)/math.Sqrt(dot(a, a)*dot(b, b)))
		}
	}
	least = math.Max(0, math.Round(1e9*least)/1e9)
	of := func(df float64) dist.MaxAbsT {
		return dist.MaxAbsT{Lambda: slices.Repeat([]float64{least}, len(family)), Nu: df}
	}
	return adjustment{"Dunnett", len(family),
		func(t, df float64) float64 { return of(df).Survival(t) },
		func(df float64) float64 {
			return l.memo.Get(fmt.Sprint("dunnett within ", least, len(family), df), func() float64 { return of(df).Quantile(outcome.Level) })
		}}
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}

// tukey judges all pairs among n treatments, all by one variance (Tukey 1953; Kramer 1956).
func (l *layout) tukey(n, pairs int) adjustment {
	rangeOf := func(df float64) dist.StudentizedRange { return dist.StudentizedRange{K: n, Nu: df} }
	return adjustment{"Tukey-Kramer", pairs,
		func(t, df float64) float64 { return rangeOf(df).Survival(t * math.Sqrt2) },
		func(df float64) float64 {
			return l.memo.Get(fmt.Sprint("tukey ", n, df), func() float64 { return rangeOf(df).Quantile(outcome.Level) / math.Sqrt2 })
		}}
}

// welchToControl judges the same where each treatment keeps its own variance: by a multivariate t with each comparison's own
// degrees of freedom (Hasler & Hothorn 2008, Biom. J. 50, 793-800).
func (l *layout) welchToControl(family []group, control group) adjustment {
	own := func(g group) float64 {
		return math.Max(arithmetic.Variance(l.ys(g)), l.withinOf(g)) / float64(len(g.figures))
	}
	lambda := make([]float64, len(family))
	for i, g := range family {
		lambda[i] = own(control) / (own(g) + own(control))
	}
	return adjustment{"Welch t, multivariate t", len(family),
		func(t, df float64) float64 { return dist.MaxAbsT{Lambda: lambda, Nu: df}.Survival(t) },
		func(df float64) float64 { return dist.MaxAbsT{Lambda: lambda, Nu: df}.Quantile(outcome.Level) }}
}
