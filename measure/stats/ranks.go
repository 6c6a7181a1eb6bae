package stats

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/stats/dist"
)

// Ranks returns each value's rank, 1 for the least; ties share the mean of theirs.
func Ranks(values []float64) []float64 {
	doubled, _ := midranks(values)
	ranks := make([]float64, len(doubled))
	for i, r := range doubled {
		ranks[i] = float64(r) / 2
	}
	return ranks
}

// midranks returns each value's rank, ties sharing the mean of theirs, doubled so that it is a whole number; and Σ(t³ − t) over the
// t values of each tie.
func midranks(values []float64) (doubled []int, ties float64) {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	doubled = make([]int, len(values))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && values[order[j]] == values[order[i]] {
			j++
		}
		for _, at := range order[i:j] {
			doubled[at] = i + 1 + j
		}
		t := float64(j - i)
		ties += t*t*t - t
		i = j
	}
	return doubled, ties
}

// kruskalWallis tests by ranks whether any of the groups tends to larger values (Kruskal & Wallis 1952, JASA 47, 583-621), corrected
// for ties; p by χ², which wants five values or so in each group.
func kruskalWallis(groups []Group) (ChiSquaredTest, error) {
	if err := check(groups); err != nil {
		return ChiSquaredTest{}, err
	}
	var all []float64
	for _, g := range groups {
		all = append(all, g.Values...)
	}
	ranks, ties := midranks(all)
	n, at, h := float64(len(all)), 0, 0.0
	correction := 1 - ties/(n*n*n-n)
	if len(all) < 3 || correction <= 0 {
		return ChiSquaredTest{}, errors.New("all values are equal or there are too few, so ranks show nothing")
	}
	for _, g := range groups {
		distance := 0.0 // of the mean rank from the middle
		for range g.Values {
			distance += float64(ranks[at])/2 - (n+1)/2
			at++
		}
		h += distance * distance / float64(len(g.Values))
	}
	h *= 12 / (n * (n + 1)) / correction
	df := float64(len(groups) - 1)
	return ChiSquaredTest{h, df, dist.UpperChiSquared(h, df)}, nil
}

// exactUpTo is how many values two groups may hold together for their rank sum to be judged by counting every way to share the ranks out.
const exactUpTo = 100

// rankSum returns the p of Wilcoxon's rank sum test of a and b (Wilcoxon 1945, Biometrics Bull. 1, 80-83): the share of all ways to
// deal out the ranks that lie as far from the expected sum, counted (Streitberg & Röhmel 1986, Stat. Softw. Newsl. 12, 10-17), ties as
// they are; above exactUpTo values by the normal distribution with corrections for ties and continuity. z is the standardised sum.
func rankSum(a, b []float64) (z, p float64) {
	ranks, ties := midranks(slices.Concat(a, b))
	na, nb := float64(len(a)), float64(len(b))
	n, sum := na+nb, 0
	for _, r := range ranks[:len(a)] {
		sum += r
	}
	off := float64(sum)/2 - na*(n+1)/2
	variance := na * nb / 12 * (n + 1 - ties/(n*(n-1)))
	if variance <= 0 {
		return 0, 1 // all values equal
	}
	z = off / math.Sqrt(variance)
	if len(ranks) > exactUpTo {
		return z, min(1, math.Erfc(max(0, math.Abs(off)-0.5)/math.Sqrt(variance)/math.Sqrt2))
	}
	ways := waysToSum(ranks, len(a))
	total, far, middle := 0.0, 0.0, na*(n+1) // doubled, as the ranks are
	for s, w := range ways {
		total += w
		if math.Abs(float64(s)-middle) >= math.Abs(float64(sum)-middle) {
			far += w
		}
	}
	return z, min(1, far/total)
}

// waysToSum counts the ways to choose k of the ranks for each sum that they can have.
func waysToSum(ranks []int, k int) []float64 {
	total := 0
	for _, r := range ranks {
		total += r
	}
	ways := make([][]float64, k+1) // by how many are chosen, then by sum
	for i := range ways {
		ways[i] = make([]float64, total+1)
	}
	ways[0][0] = 1
	reach := 0
	for i, r := range ranks {
		reach += r
		for c := min(k, i+1); c >= 1; c-- {
			for s := reach; s >= r; s-- {
				ways[c][s] += ways[c-1][s-r]
			}
		}
	}
	return ways[k]
}

// shift estimates how far a lies above b: the median of all differences (Hodges & Lehmann 1963, Ann. Math. Stat. 34, 598-611), with
// the interval whose ends are the differences that the rank sum test just does not refuse (Hollander & Wolfe 1999, sect. 4.3). Where
// there are too few values for any to be refused at that level, the interval is all numbers: −Inf to +Inf.
func shift(a, b []float64, alpha float64) (estimate, lower, upper float64) {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	pairs := len(a) * len(b)
	estimate = kthDifference(a, b, (pairs+1)/2)/2 + kthDifference(a, b, pairs/2+1)/2
	c := criticalCount(len(a), len(b), alpha)
	if c < 1 {
		return estimate, math.Inf(-1), math.Inf(1)
	}
	return estimate, kthDifference(a, b, c), kthDifference(a, b, pairs+1-c)
}

// kthDifference returns the k-th smallest, from 1, of all differences of a value of a and one of b, both sorted, without writing them all down:
// it halves the range of float64 values, at most 64 times, and counts.
func kthDifference(a, b []float64, k int) float64 {
	low, high := order(a[0]-b[len(b)-1]), order(a[len(a)-1]-b[0])
	for low < high {
		middle := low + (high-low)/2
		if notAbove(a, b, fromOrder(middle)) >= k {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return fromOrder(low)
}

// notAbove counts the differences up to x: as a grows, so does the first b whose difference is small enough.
func notAbove(a, b []float64, x float64) (n int) {
	j := 0
	for _, v := range a {
		for j < len(b) && v-b[j] > x {
			j++
		}
		n += len(b) - j
	}
	return n
}

// order numbers the float64 values in their order, and fromOrder gives them back.
func order(v float64) uint64 {
	bits := math.Float64bits(v + 0) // −0 + 0 is 0
	if bits>>63 == 1 {
		return ^bits
	}
	return bits | 1<<63
}

func fromOrder(n uint64) float64 {
	if n>>63 == 1 {
		return math.Float64frombits(n &^ (1 << 63))
	}
	return math.Float64frombits(^n)
}

// criticalCount returns the largest c with P(U < c) <= alpha/2, U being the number of pairs in which the first is larger.
func criticalCount(na, nb int, alpha float64) int {
	n := na + nb
	if n > exactUpTo {
		a, b := float64(na), float64(nb)
		return int(math.Floor(a*b/2 + distuv.UnitNormal.Quantile(alpha/2)*math.Sqrt(a*b*(a+b+1)/12)))
	}
	ranks := make([]int, n)
	for i := range ranks {
		ranks[i] = i + 1
	}
	ways := waysToSum(ranks, na)
	total, below := 0.0, 0.0
	for _, w := range ways {
		total += w
	}
	least := na * (na + 1) / 2
	for c := 0; ; c++ {
		if below += ways[least+c]; below > alpha/2*total*(1+1e-12) {
			return c
		}
	}
}

// RanksToControl compares every other group with the control by ranks: Wilcoxon's rank sum test of each, adjusted by Holm (1979,
// Scand. J. Stat. 6, 65-70), with the Hodges-Lehmann shift and intervals that hold all at once by Bonferroni. It asks for no shape
// of the values, only for the same shape in both. T is the standardised rank sum; SE and DF are undefined.
func RanksToControl(groups []Group, control string, level float64) (Comparisons, error) {
	zero, err := indexOf(groups, control)
	if err != nil {
		return Comparisons{}, err
	}
	var pairs [][2]int
	for i := range groups {
		if i != zero {
			pairs = append(pairs, [2]int{i, zero})
		}
	}
	c, err := byRanks(groups, pairs, level)
	c.Method, c.Control = rankManyMethod, control
	return c, err
}

// RankPairs compares every pair of groups by ranks, as RanksToControl does.
func RankPairs(groups []Group, level float64) (Comparisons, error) {
	var pairs [][2]int
	eachPair(groups, func(i, j int) { pairs = append(pairs, [2]int{j, i}) })
	return byRanks(groups, pairs, level)
}

func byRanks(groups []Group, pairs [][2]int, level float64) (Comparisons, error) {
	c := Comparisons{Method: rankManyMethod, Level: level, Critical: math.NaN()}
	if err := check(groups); err != nil {
		return c, err
	}
	if err := checkLevel(level); err != nil {
		return c, err
	}
	var ps []float64
	for _, pair := range pairs {
		a, b := groups[pair[0]], groups[pair[1]]
		d := Comparison{A: a.Name, B: b.Name, SE: math.NaN(), DF: math.NaN()}
		d.T, d.P = rankSum(a.Values, b.Values)
		d.Estimate, d.Lower, d.Upper = shift(a.Values, b.Values, (1-level)/float64(len(pairs)))
		ps, c.All = append(ps, d.P), append(c.All, d)
	}
	for i, p := range Adjust(ps, Holm) {
		c.All[i].PAdj = p
	}
	return c, nil
}
