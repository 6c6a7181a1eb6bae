package stats

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"traygauge/measure/stats/published"
)

// bartlett.test, leveneTest (car), shapiro.test and kruskal.test of R.
func TestSpreadShapeAndRanksAgreeWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		b, err := bartlett(groups)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "Bartlett", b.Statistic, r.Bartlett.Statistic, 0, 1e-10)
		published.Near(t, "Bartlett df", b.DF, r.Bartlett.DF, 0, 0)
		published.Near(t, "Bartlett p", b.P, r.Bartlett.P, 0, 1e-9)
		for centre, want := range map[Centre]FTest{LeveneMean: r.LeveneMean, BrownForsythe: r.Brown} {
			l, err := Levene(groups, centre)
			if err != nil {
				t.Fatal(err)
			}
			checkF(t, "Levene", l, want)
		}
		s, err := ShapiroWilk(Residuals(groups))
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "Shapiro-Wilk W", s.W, r.Shapiro.W, 0, 1e-11)
		published.Near(t, "Shapiro-Wilk p", s.P, r.Shapiro.P, 0, 1e-9)
		k, err := kruskalWallis(groups)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "Kruskal-Wallis", k.Statistic, r.Kruskal.Statistic, 0, relR)
		published.Near(t, "Kruskal-Wallis df", k.DF, r.Kruskal.DF, 0, 0)
		published.Near(t, "Kruskal-Wallis p", k.P, r.Kruskal.P, 0, 1e-9)
	})
}

// Three values: W has a smallest value of 3/4, and p is exact: values 0, 0, 1 lie there, 0, 1, 2 are as normal as three can be.
func TestShapiroWilkOfThreeValuesIsExact(t *testing.T) {
	s, err := ShapiroWilk([]float64{1, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "W", s.W, 0.75, 1e-15, 0)
	published.Near(t, "p", s.P, 0, 1e-7, 0)
	s, _ = ShapiroWilk([]float64{0, 1, 2})
	published.Near(t, "W", s.W, 1, 1e-15, 0)
	published.Near(t, "p", s.P, 1, 1e-7, 0)
}

// pairwise.t.test of R with p.adjust.
func TestPairwiseTAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		for own, want := range map[bool][]pairwiseRef{false: r.Pooled, true: r.Separate} {
			got, err := pairwiseT(groups, own)
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range want {
				g, what := got[i], w.A+" − "+w.B
				if g.A != w.A || g.B != w.B {
					t.Fatalf("%+v, want %s", g, what)
				}
				published.Near(t, what+" p", g.P, w.Raw, 0, 1e-9)
				published.Near(t, what+" Holm", g.Holm, w.Holm, 0, 1e-9)
				published.Near(t, what+" Bonferroni", g.Bonferroni, w.Bonferroni, 0, 1e-9)
				published.Near(t, what+" BH", g.BH, w.BH, 0, 1e-9)
			}
		}
	})
}

func TestAdjustKeepsOrderAndGaps(t *testing.T) {
	got := Adjust([]float64{0.04, math.NaN(), 0.01, 0.5}, Holm) // by hand: 3·0.01, 2·0.04, 0.5
	if want := []float64{0.08, math.NaN(), 0.03, 0.5}; got[0] != want[0] || !math.IsNaN(got[1]) || got[2] != want[2] || got[3] != want[3] {
		t.Errorf("%v, want %v", got, want)
	}
}

// Fieller's formula in R.
func TestFiellerAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		got, err := Fieller(0, groups, r.Dunnett.Control, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range r.Fieller {
			g := got[i]
			if g.Group != w.Group || g.Bounded != w.Bounded {
				t.Fatalf("%+v, want %+v", g, w)
			}
			published.Near(t, w.Group+" ratio", g.Ratio, w.Ratio, 0, relR)
			if w.Bounded {
				published.Near(t, w.Group+" lower", g.Lower, w.Lower, 0, 1e-10)
				published.Near(t, w.Group+" upper", g.Upper, w.Upper, 0, 1e-10)
			}
		}
	})
}

// A control that may be 0 bounds no ratio.
func TestFiellerWithoutEnds(t *testing.T) {
	q := fiellerRatio(3, 1, 1, 1, 2)
	if q.Bounded || !math.IsNaN(q.Lower) || q.Ratio != 3 {
		t.Errorf("%+v, want a ratio of 3 without ends", q)
	}
}

// prop.test(correct=FALSE) and fisher.test of R.
func TestCountsAgreeWithR(t *testing.T) {
	var refs struct {
		Intervals []struct {
			X, N        int
			P           float64
			WilsonLower float64 `json:"wilson_lower"`
			WilsonUpper float64 `json:"wilson_upper"`
		} `json:"intervals95"`
		Fisher []struct {
			Table [4]int
			P     float64 `json:"fisher_two_sided_p"`
		}
	}
	published.ReadJSON(t, "tables/proportions.json", &refs)
	for _, r := range refs.Intervals {
		what := strconv.Itoa(r.X) + " of " + strconv.Itoa(r.N)
		w, err := Wilson(r.X, r.N, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, what, w.Share, r.P, 0, 1e-15)
		published.Near(t, what+" Wilson lower", w.Lower, r.WilsonLower, 1e-14, relR)
		published.Near(t, what+" Wilson upper", w.Upper, r.WilsonUpper, 0, relR)
	}
	for _, r := range refs.Fisher {
		p, err := FisherExact(r.Table[0], r.Table[1], r.Table[2], r.Table[3])
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "Fisher", p, r.P, 0, 1e-10)
	}
	for _, bad := range [][2]int{{1, 0}, {-1, 5}, {6, 5}} {
		if _, err := Wilson(bad[0], bad[1], 0.95); err == nil {
			t.Errorf("%d of %d is taken", bad[0], bad[1])
		}
	}
	if p, err := FisherExact(0, 5, 0, 5); err != nil || p != 1 { // nothing in either
		t.Errorf("0 of 5 and 0 of 5: %v %v, want 1", p, err)
	}
}

// The truth of a rank sum test's p, by trying every way to choose which values are the first group's.
func everyDeal(a, b []float64) float64 {
	all := slices.Concat(a, b)
	ranks, _ := midranks(all)
	middle, seen := len(a)*(len(all)+1), 0
	for _, r := range ranks[:len(a)] {
		seen += r
	}
	far, total := 0, 0
	for deal := range 1 << len(all) {
		if bits.OnesCount(uint(deal)) != len(a) {
			continue
		}
		sum := 0
		for i, r := range ranks {
			if deal>>i&1 == 1 {
				sum += r
			}
		}
		total++
		if abs(sum-middle) >= abs(seen-middle) {
			far++
		}
	}
	return float64(far) / float64(total)
}

func abs(i int) int { return max(i, -i) }

func TestRankSumIsExactWithAndWithoutTies(t *testing.T) {
	for _, c := range []struct{ a, b []float64 }{
		{[]float64{1, 2, 3}, []float64{4, 5, 6}},
		{[]float64{1, 5, 3, 8}, []float64{4, 2, 6}},
		{[]float64{1, 1, 3, 3, 8}, []float64{1, 2, 3, 9, 9, 9}},
		{[]float64{0, 0, 0, 1}, []float64{0, 0, 2, 2}},
		{[]float64{7}, []float64{1, 2, 3, 4}},
	} {
		_, p := rankSum(c.a, c.b)
		published.Near(t, "p", p, everyDeal(c.a, c.b), 0, 1e-12)
	}
	_, p := rankSum([]float64{1, 2, 3}, []float64{4, 5, 6})
	published.Near(t, "3 of 3 above", p, 0.1, 0, 1e-12) // 2 of the 20 deals, by hand
	_, p = rankSum([]float64{2, 2}, []float64{2, 2})
	published.Near(t, "all equal", p, 1, 0, 0)
}

// The normal approximation above exactUpTo values, against the count at that size.
func TestRankSumOfManyValuesMeetsTheCount(t *testing.T) {
	var a, b []float64
	for i := range 50 {
		a, b = append(a, float64(i)), append(b, float64(i)+10.5)
	}
	_, exact := rankSum(a, b)
	a = append(a, 25)
	_, approximate := rankSum(a, b)
	published.Near(t, "p", approximate, exact, 0.003, 0)
}

// The interval's ends are where the test of shifted values turns: inside p > alpha, outside p <= alpha.
func TestShiftIntervalInvertsTheRankSum(t *testing.T) {
	a, b := []float64{5.1, 6.3, 7.7, 8.2, 9.9, 10.4}, []float64{2.0, 3.1, 4.5, 5.7, 7.05}
	estimate, lower, upper := shift(a, b, 0.05)
	at := func(by float64) float64 {
		moved := slices.Clone(b)
		for i := range moved {
			moved[i] += by
		}
		_, p := rankSum(a, moved)
		return p
	}
	if !(lower < estimate && estimate < upper) || !(at(lower+1e-9) > 0.05) || !(at(upper-1e-9) > 0.05) || !(at(lower-1e-9) <= 0.05) || !(at(upper+1e-9) <= 0.05) {
		t.Errorf("%v in %v to %v; p inside %v %v, outside %v %v", estimate, lower, upper, at(lower+1e-9), at(upper-1e-9), at(lower-1e-9), at(upper+1e-9))
	}
	if _, lower, upper = shift(a[:3], b[:3], 0.05); !math.IsInf(lower, -1) || !math.IsInf(upper, 1) { // the smallest p of 3 and 3 is 0.1
		t.Errorf("3 and 3 values bound the shift to %v to %v", lower, upper)
	}
}

// The k-th difference without writing all down, against all written down; and of 100 000 values a group, whose pairs no memory holds.
func TestKthDifferenceIsThatOfAllWrittenDown(t *testing.T) {
	a, b := []float64{-3, -3, 0, 0.1, 2, 7e10}, []float64{-5, -0.1, 0, 0, 1e-300, 3}
	var all []float64
	for _, x := range a {
		for _, y := range b {
			all = append(all, x-y)
		}
	}
	slices.Sort(all)
	for k, want := range all {
		if got := kthDifference(a, b, k+1); got != want {
			t.Errorf("difference %d: %v, want %v", k+1, got, want)
		}
	}
	many, more := make([]float64, 100_000), make([]float64, 100_000)
	for i := range many {
		many[i], more[i] = float64(i), float64(i)+1000
	}
	estimate, lower, upper := shift(more, many, 0.05)
	published.Near(t, "shift", estimate, 1000, 0, 0)
	// For uniform values the estimate is as sure as the mean (Hodges & Lehmann 1963): ±1.96·(n/√12)·√(2/n) = ±253.
	published.Near(t, "lower end", lower, 1000-253, 3, 0)
	published.Near(t, "upper end", upper, 1000+253, 3, 0)
}

// Of normal values, 5 % and 1 % of the p-values lie below 5 % and 1 %, whichever of the polynomials the number of values asks for. Royston's
// approximation is that good to about a tenth.
func TestShapiroWilkKeepsItsRates(t *testing.T) {
	const samples = 20_000
	r := rand.New(rand.NewPCG(6, 11))
	for _, n := range []int{3, 4, 5, 6, 8, 11, 12, 20, 50, 300} {
		below := map[float64]int{0.05: 0, 0.01: 0}
		for range samples / max(1, n/20) {
			values := make([]float64, n)
			for i := range values {
				values[i] = 100 + 7*r.NormFloat64()
			}
			s, err := ShapiroWilk(values)
			if err != nil {
				t.Fatal(err)
			}
			for limit := range below {
				if s.P < limit {
					below[limit]++
				}
			}
		}
		for limit, count := range below {
			total := float64(samples / max(1, n/20))
			got := float64(count) / total
			if math.Abs(got-limit) > 0.1*limit+4*math.Sqrt(limit*(1-limit)/total) {
				t.Errorf("%d values: %.4f of p-values below %v", n, got, limit)
			}
		}
	}
}

// The two ones share ranks 1 and 2, the two fives ranks 4 and 5.
func TestRanksShareTies(t *testing.T) {
	if got, want := Ranks([]float64{3, 1, 5, 1, 5}), []float64{3, 1.5, 4.5, 1.5, 4.5}; !slices.Equal(got, want) {
		t.Errorf("ranks %v, want %v", got, want)
	}
}
