package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"traygauge/measure/stats"
	"traygauge/report/terminal"
)

// interaction is what both of two parts give beyond the two by themselves.
type interaction struct {
	Groups []string              `json:"groups"` // neither, one, other, both
	Raw    *stats.ContrastResult `json:"raw"`    // beyond the sum of their differences; null, as Log, where there is no result
	Log    *stats.ContrastResult `json:"log"`    // logarithm of how many times more than the product of their ratios
}

// interactionOf works out the contrast 1, −1, −1, 1 of the four groups, with one variance for all groups there are.
func interactionOf(four []string, groups []stats.Group, o stats.Options) (*interaction, error) {
	weights := make([]float64, len(groups))
	for i, w := range []float64{1, -1, -1, 1} {
		four[i] = strings.TrimSpace(four[i])
		at := slices.IndexFunc(groups, func(g stats.Group) bool { return g.Name == four[i] })
		if at < 0 {
			var names []string
			for _, g := range groups {
				names = append(names, g.Name)
			}
			return nil, fmt.Errorf("--interaction: there is no group called %q; there are: %s", four[i], strings.Join(names, ", "))
		}
		if weights[at] != 0 {
			return nil, fmt.Errorf("--interaction names %q twice", four[i])
		}
		weights[at] = w
	}
	x := &interaction{Groups: four}
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

// write says it in words, on the log scale where there is one.
func (x *interaction) write(out *strings.Builder, level float64) {
	if x == nil {
		return
	}
	one, other, both := x.Groups[1], x.Groups[2], x.Groups[3]
	fmt.Fprintln(out, "\nThe combination and its parts")
	c, size, none := x.Raw, "%s gives %s more than %s and %s give together", 0.0
	show := func(v float64) float64 { return v }
	if x.Log != nil {
		c, size, none, show = x.Log, "%s gives %s times what %s and %s give together", 1, math.Exp
	}
	if c == nil {
		terminal.WriteItem(out, "no result: the values do not vary, so no difference can be judged.")
		return
	}
	words := estimated(show(c.Estimate), show(c.Lower), show(c.Upper), none)
	so := "unclear whether there is an interaction"
	switch {
	case c.P < 1-level && c.Estimate > 0:
		so = "more than the parts"
	case c.P < 1-level:
		so = "less than the parts"
	}
	terminal.WriteItem(out, fmt.Sprintf(size+": %.4g %% interval %s by itself, p %s; %s.", both, words[0], one, other, 100*level, words[1], equals(c.P), so))
}
