package stats

import (
	"fmt"
	"math"

	"traygauge/measure/stats/dist"
)

// Share is x of n with an interval.
type Share struct {
	X     int     `json:"x"`
	N     int     `json:"n"`
	Share float64 `json:"share"`
	Lower float64 `json:"lower"`
	Upper float64 `json:"upper"`
}

func checkCount(x, n int, level float64) error {
	if n <= 0 || x < 0 || x > n {
		return fmt.Errorf("%d of %d is not a share", x, n)
	}
	return checkLevel(level)
}

// Wilson returns the share x/n with Wilson's interval (1927, JASA 22, 209-212), whose coverage is near the level on average:
//
//	[x + z²/2 ± z√(x(n−x)/n + z²/4)] / (n + z²)
func Wilson(x, n int, level float64) (Share, error) {
	if err := checkCount(x, n, level); err != nil {
		return Share{}, err
	}
	z, k, m := dist.TwoSidedTQuantile(1-level, math.Inf(1)), float64(x), float64(n)
	half := z * math.Sqrt(k*(m-k)/m+z*z/4)
	s := Share{x, n, k / m, (k + z*z/2 - half) / (m + z*z), (k + z*z/2 + half) / (m + z*z)}
	if x == 0 {
		s.Lower = 0
	}
	if x == n {
		s.Upper = 1
	}
	return s, nil
}

// FisherExact tests whether a of a+b and c of c+d are the same share (Fisher 1935): the two-sided p is the probability of all tables
// with these sums that are no more likely than the one seen.
func FisherExact(a, b, c, d int) (float64, error) {
	if a < 0 || b < 0 || c < 0 || d < 0 || a+b == 0 || c+d == 0 {
		return math.NaN(), fmt.Errorf("%d of %d and %d of %d cannot be compared: both need something to count", a, a+b, c, c+d)
	}
	row, other, column := a+b, c+d, a+c
	logP := func(x int) float64 {
		return logChoose(row, x) + logChoose(other, column-x) - logChoose(row+other, column)
	}
	seen, p := logP(a), 0.0
	for x := max(0, column-other); x <= min(row, column); x++ {
		if l := logP(x); l <= seen+1e-7 { // rounding must not separate tables that are equally likely
			p += math.Exp(l)
		}
	}
	return min(1, p), nil
}

// logChoose returns ln of n over k.
func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}
