package table

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/stats"
)

// Interaction is what both of two parts give beyond the two by themselves.
type Interaction struct {
	Groups []string              `json:"groups"` // neither, one, other, both
	Raw    *stats.ContrastResult `json:"raw"`    // beyond the sum of their differences; null, as Log, where there is no result
	Log    *stats.ContrastResult `json:"log"`    // logarithm of how many times more than the product of their ratios
}

// interactionOf calculates the contrast 1, −1, −1, 1 of the four groups, with one variance for all groups there are.
func interactionOf(four []string, groups []stats.Group, o stats.Options) (*Interaction, error) {
	weights := make([]float64, len(groups))
	for i, w := range []float64{1, -1, -1, 1} {
		four[i] = strings.TrimSpace(four[i])
		at := slices.IndexFunc(groups, func(g stats.Group) bool { return g.Name == four[i] })
		if at < 0 {
			var names []string
			for _, g := range groups {
				names = append(names, g.Name)
			}
			return nil, fmt.Errorf("--interaction: there is no group %q; the groups are %s", four[i], strings.Join(names, ", "))
		}
		if weights[at] != 0 {
			return nil, fmt.Errorf("--interaction names %q twice", four[i])
		}
		weights[at] = w
	}
	x := &Interaction{Groups: four}
	if c, err := stats.Contrast(groups, weights, o.Level); err == nil {
		x.Raw = &c
	}
	if logs, err := stats.LogFrom(o.Offset, groups); err == nil {
		if c, err := stats.Contrast(logs, weights, o.Level); err == nil {
			x.Log = &c
		}
	}
	return x, nil
}
