package stats

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"traygauge/measure/stats/dist"
)

// Group is the values that share a label: one value for each thing that was treated on its own.
type Group struct {
	Name   string    `json:"group"`
	Values []float64 `json:"values"`
}

// Summary is what describe says of a group.
type Summary struct {
	Group  string  `json:"group"`
	N      int     `json:"n"`
	Mean   float64 `json:"mean"`
	SD     float64 `json:"sd"`     // with n − 1 below the root
	CVPct  float64 `json:"cv_pct"` // 100·SD/mean; undefined unless the mean is above 0
	SE     float64 `json:"se"`     // SD/√n
	Lower  float64 `json:"lower"`  // of the mean, by Student's t with n − 1 degrees of freedom
	Upper  float64 `json:"upper"`
	Median float64 `json:"median"`
	Min    float64 `json:"min"`
	Max    float64 `json:"max"`
}

// describe sums g up, with an interval of the mean at level (0.95 for 95 %). No values: all but N is undefined. One value has no SD.
func describe(g Group, level float64) Summary {
	nan := math.NaN()
	s := Summary{g.Name, len(g.Values), nan, nan, nan, nan, nan, nan, nan, nan, nan}
	if s.N == 0 {
		return s
	}
	m := momentsOf(g.Values)
	s.Mean, s.Median, s.Min, s.Max = m.mean(), Median(g.Values), slices.Min(g.Values), slices.Max(g.Values)
	if s.N > 1 {
		s.SD = math.Sqrt(m.variance())
		s.SE = s.SD / math.Sqrt(float64(s.N))
		half := dist.TwoSidedTQuantile(1-level, float64(s.N-1)) * s.SE
		s.Lower, s.Upper = s.Mean-half, s.Mean+half
		if s.Mean > 0 {
			s.CVPct = 100 * s.SD / s.Mean
		}
	}
	return s
}

// Median returns the middle value, or the mean of the middle two.
func Median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return sorted[(n-1)/2]/2 + sorted[n/2]/2
}

// logarithms returns the groups' natural logarithms, whose differences are ratios. A value that is not above 0 has none and is refused:
// there is no ratio to nothing.
func logarithms(groups []Group) ([]Group, error) {
	logs := make([]Group, len(groups))
	for i, g := range groups {
		logs[i] = Group{g.Name, make([]float64, len(g.Values))}
		for j, v := range g.Values {
			if !(v > 0) {
				return nil, fmt.Errorf("%s has the value %v: a zero or negative value has no logarithm, so there is no ratio; compare differences instead", quoted(g.Name), v)
			}
			logs[i].Values[j] = math.Log(v)
		}
	}
	return logs, nil
}

// errNoVariation is the refusal of values that do not vary within any group.
var errNoVariation = errors.New("the values do not vary within any group, so there is no test and no interval")

// errNoReplicates is the refusal of groups that all hold one value.
var errNoReplicates = errors.New("every group has only one value, so the variation within groups is unknown and there is no test or interval; measure at least two per group")

// quoted is a label as errors show it.
func quoted(name string) string { return fmt.Sprintf("%q", name) }

// check refuses what no comparison can start from: fewer than two groups, an empty one, one name twice, values that are no numbers.
func check(groups []Group) error {
	if len(groups) < 2 {
		return fmt.Errorf("%d group: a comparison needs at least two", len(groups))
	}
	seen := map[string]bool{}
	for _, g := range groups {
		if seen[g.Name] {
			return fmt.Errorf("there are two groups called %s", quoted(g.Name))
		}
		seen[g.Name] = true
		if len(g.Values) == 0 {
			return fmt.Errorf("%s has no values: leave it out, or measure it", quoted(g.Name))
		}
		for _, v := range g.Values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%s has a value of %v, which cannot be used in a calculation", quoted(g.Name), v)
			}
		}
	}
	return nil
}

// checkEach asks for at least two differing values in each group, as methods do that give each its own variance.
func checkEach(groups []Group) error {
	if err := check(groups); err != nil {
		return err
	}
	for _, g := range groups {
		switch {
		case len(g.Values) < 2:
			return fmt.Errorf("%s has only one value, so it has no variance of its own: measure at least two, or use one variance for all groups", quoted(g.Name))
		case momentsOf(g.Values).flat():
			return fmt.Errorf("the values of %s are all equal, so it has no variance of its own: use one variance for all groups", quoted(g.Name))
		}
	}
	return nil
}

// checkLevel refuses a confidence level that is none.
func checkLevel(level float64) error {
	if !(level > 0 && level < 1) {
		return fmt.Errorf("a confidence level of %v: give one between 0 and 1, such as 0.95", level)
	}
	return nil
}

// indexOf finds the group called name.
func indexOf(groups []Group, name string) (int, error) {
	i := slices.IndexFunc(groups, func(g Group) bool { return g.Name == name })
	if i < 0 {
		names := ""
		for j, g := range groups {
			if j > 0 {
				names += ", "
			}
			if j == 20 {
				names += fmt.Sprintf("and %d more", len(groups)-j)
				break
			}
			names += g.Name
		}
		return 0, fmt.Errorf("there is no group %s to use as the control; the groups are %s", quoted(name), names)
	}
	return i, nil
}

// LogSummary describes a group on the log scale.
type LogSummary struct {
	Group         string  `json:"group"`
	N             int     `json:"n"`
	MeanLog       float64 `json:"mean_log"`
	SDLog         float64 `json:"sd_log"`
	GeometricMean float64 `json:"geometric_mean"`
	CVPct         float64 `json:"geometric_cv_pct"` // 100·√(exp(SDLog²) − 1), of a log-normal quantity
	Lower         float64 `json:"lower"`            // of the geometric mean
	Upper         float64 `json:"upper"`
}

// DescribeLog sums up a group of logarithms, as Log makes them, with an interval of the geometric mean. offset is what was taken off the
// values before Log, which then leaves out ln(offset); else 0.
func DescribeLog(logs Group, level, offset float64) LogSummary {
	s := describe(logs, level)
	if offset > 0 {
		for _, v := range []*float64{&s.Mean, &s.Lower, &s.Upper} {
			*v += math.Log(offset)
		}
	}
	return LogSummary{s.Group, s.N, s.Mean, s.SD, math.Exp(s.Mean), 100 * math.Sqrt(math.Expm1(s.SD*s.SD)), math.Exp(s.Lower), math.Exp(s.Upper)}
}
