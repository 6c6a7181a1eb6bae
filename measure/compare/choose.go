package compare

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/stat/combin"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
)

// How many trays of each treatment it takes to leave the one common scatter. A variance from fewer than six is itself known
// to no better than a factor of two or three, and giving up the common one would cost more than it saves. With fewer than
// five a side no rank test comes below 0.05 once it is adjusted for a second comparison; with more comparisons it takes more trays, see ranksCanShow.
const (
	leastForOwnSpread = 6
	leastForRanks     = 5
)

// choosingRule is the rule by which choose decides, in words.
const choosingRule = "If the variation of trays is clearly not normal (Shapiro-Wilk below 0.01) and each treatment has at least five trays, " +
	"ranks are compared instead (Wilcoxon, Holm). If each has at least six trays and their variations differ (Brown-Forsythe below 0.05), each treatment keeps its own variation (Welch)"

// choose decides how trays are compared, by the limits that measure/stats has for any table. The scale is not chosen: it goes
// with the quantity and was fixed before there were data.
func (l *layout) choose(family int) {
	groups := l.statsGroups()
	if !l.byTrays() || len(groups) < 2 || l.model != nil { // within blocks all have one common scatter
		return
	}
	fewest := len(groups[0].Values)
	for _, g := range groups {
		fewest = min(fewest, len(g.Values))
	}
	if s, err := stats.ShapiroWilk(stats.Residuals(groups)); err == nil && s.P < stats.ShapeLimit {
		words := fmt.Sprintf("the trays’ variation in %s is clearly not normal (Shapiro-Wilk %s)", l.Name, outcome.PWords(arithmetic.Number(s.P)))
		if fewest >= leastForRanks && ranksCanShow(fewest, family) {
			l.ranks = true
			l.limits = append(l.limits, words+", so ranks are compared")
			return
		}
		l.limits = append(l.limits, words+", and there are too few trays to compare ranks: its intervals and p are only rough")
	}
	if fewest < leastForOwnSpread {
		return
	}
	if f, err := stats.Levene(groups, stats.BrownForsythe); err == nil && f.P < stats.SpreadLimit && !slices.ContainsFunc(groups, flat) {
		l.uneven = true
		l.limits = append(l.limits, fmt.Sprintf("the variation of trays in %s differs between treatments (Brown-Forsythe %s), so each treatment keeps its own", l.Name, outcome.PWords(arithmetic.Number(f.P))))
	}
}

// ranksCanShow reports whether the smallest p that n values a side can have, 2/C(2n, n) two-sided, is below 0.05 when it is adjusted for a family of
// comparisons (Holm).
func ranksCanShow(n, family int) bool {
	return 2*float64(family)/combin.GeneralizedBinomial(2*float64(n), float64(n)) < 1-outcome.Level
}

// largestFamily is how many treatments with figures are compared with one control, the most of all controls.
func (t *trial) largestFamily(l *layout) int {
	most, with := 1, map[string]int{}
	for _, x := range t.Plan.Treatments {
		for _, control := range x.CompareWith {
			if len(l.group(x.Name).figures) > 0 && len(l.group(control).figures) > 0 {
				with[control]++
				most = max(most, with[control])
			}
		}
	}
	return most
}

func flat(g stats.Group) bool { return arithmetic.Squares(g.Values) == 0 }

// statsGroups returns the trays' figures on the scale, by treatment, those without any left out.
func (l *layout) statsGroups() []stats.Group {
	var groups []stats.Group
	for _, g := range l.groups {
		if len(g.figures) > 0 {
			groups = append(groups, stats.Group{Name: g.treatment, Values: l.ys(g)})
		}
	}
	return groups
}

// rankToControl judges a comparison again by ranks, as one of the family that is set against its control.
func (l *layout) rankToControl(c *outcome.Comparison, family []group, control group) {
	groups := []stats.Group{{Name: control.treatment, Values: l.ys(control)}}
	for _, g := range family {
		groups = append(groups, stats.Group{Name: g.treatment, Values: l.ys(g)})
	}
	if all, err := stats.RanksToControl(groups, control.treatment, outcome.Level); err == nil {
		l.takeRanks(c, all)
	}
}

// takeRanks fills in what ranks say of a comparison: the median of all differences between two trays (Hodges & Lehmann 1963)
// with its interval, and the rank sum test.
func (l *layout) takeRanks(c *outcome.Comparison, all stats.Comparisons) {
	for _, r := range all.All {
		sign := 1.0
		switch {
		case r.A == c.Treatment && r.B == c.Control:
		case r.B == c.Treatment && r.A == c.Control:
			sign, r.Lower, r.Upper = -1, -r.Upper, -r.Lower
		default:
			continue
		}
		c.Estimate, c.Lower, c.Upper = l.back(sign*r.Estimate), l.back(r.Lower), l.back(r.Upper)
		c.PSingle, c.P, c.Test, c.Together = arithmetic.Number(r.P), arithmetic.Number(r.PAdj), all.Method, len(all.All)
		c.DF, c.MeasuringShare = reading.Missing, reading.Missing
		switch {
		case r.Lower > 0:
			c.Verdict = outcome.More
		case r.Upper < 0:
			c.Verdict = outcome.Less
		default:
			c.Verdict = outcome.Unclear
		}
		if !c.Lower.Known() || !c.Upper.Known() { // too few trays for one end
			c.Lower, c.Upper = reading.Missing, reading.Missing
		}
		c.SpansEverything = false
		c.Settle()
	}
}
