package compare

import (
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
)

// term is one treatment's part in a contrast.
type term struct {
	group  group
	weight float64
}

// contrast is a weighted sum of treatments' means on the layout's scale, and how well it is known.
type contrast struct {
	estimate  float64
	se        float64 // NaN when nothing tells it
	df        float64
	measuring float64 // share of se² that measuring may account for, 0 to 1; NaN: not known
	weight    float64 // Σ w²/n over the treatments
	fromPlugs float64 // the part of the variance that comes from the plugs and from measuring

	points, angles float64 // of shares: the difference as it is shown, and the sum of the two angles
}

// contrast calculates Σ w·mean over the terms, one of so many that are judged together, a weighted sum Σ a·y of the trays' figures. With replicate trays
//
//	SE² = s²·Σ a²
//
// with s² the variance between trays treated alike, never below what plugs and photos make of it (see known); where a mean is the plain one
// over n trays, a is w/n. Errors of measuring scatter from photo to photo and so are in s² already; SE² is never taken to be less than what
// measuring alone makes of it, Σ a²·u². Without replicate trays
//
//	SE² = Σ a²·(v + u²)
//
// with v the variance of a tray's figure from its plugs and u its standard uncertainty from measuring, which the plugs of
// one photo share and their scatter does not show. Degrees of freedom after Welch and Satterthwaite (JCGM 100:2008, G.4.1),
// u taken as known.
func (l *layout) contrast(together int, terms ...term) contrast {
	c := contrast{se: arithmetic.NaN, df: arithmetic.NaN, measuring: arithmetic.NaN}
	measuring, plugs, below := 0.0, 0.0, 0.0
	weights := l.weights(terms...)
	c.estimate = l.estimate(weights)
	if l.angular {
		c.points = l.sharePoints(weights)
		both := slices.Clone(terms)
		for i := range both {
			both[i].weight = math.Abs(both[i].weight)
		}
		c.angles = l.estimate(l.weights(both...))
	}
	for i, f := range l.all() {
		if weights[i] == 0 {
			continue
		}
		w := weights[i] * weights[i]
		c.weight += w
		own, u := l.onScale(f, math.Sqrt(f.PlugVar)), l.onScale(f, f.U)
		plugs += float64(w * own * own)
		measuring += float64(w * u * u)
		part := w * own * own
		below += part * part / float64(f.Plugs-1)
	}
	known := 0.0
	if !math.IsNaN(measuring) {
		known = measuring
	}
	c.fromPlugs = plugs + known
	total := c.fromPlugs
	switch {
	case l.byTrays() && l.uneven:
		total, c.df = l.ownScatter(terms)
	case l.byTrays():
		s2, df := l.known(together)
		total, c.df = s2*c.weight, df
	case !math.IsNaN(total):
		c.df = total * total / below // +Inf when the plugs do not scatter
	}
	if c.df > countless {
		c.df = math.Inf(1)
	}
	if c.df < 1 { // a figure from a single plug has no scatter to tell by
		c.se = arithmetic.NaN
		return c
	}
	total = math.Max(total, known)
	c.se = math.Sqrt(total)
	if total > 0 {
		c.measuring = math.Min(1, measuring/total)
	}
	return c
}

// countless degrees of freedom are as good as infinitely many: t and normal distribution agree to six digits.
const countless = 1e6

// withinOf returns the mean variance of a treatment's trays from their plugs and photos, 0 where it is not known.
func (l *layout) withinOf(g group) float64 {
	sum, n := 0.0, 0
	for _, f := range g.figures {
		if w := l.onScale(f, math.Sqrt(f.Within())); !math.IsNaN(w) {
			sum, n = sum+float64(w*w), n+1
		}
	}
	return sum / math.Max(1, float64(n))
}

// ownScatter returns Σ w²·s²/n with each treatment's own variance s², never below what plugs and photos make of it, and its degrees of freedom after Welch (1947,
// Biometrika 34, 28-35).
func (l *layout) ownScatter(terms []term) (total, df float64) {
	below := 0.0
	for _, t := range terms {
		n := float64(len(t.group.figures))
		part := t.weight * t.weight * math.Max(arithmetic.Variance(l.ys(t.group)), l.withinOf(t.group)) / n
		total += part
		below += part * part / (n - 1)
	}
	return total, total * total / below
}

// usualTwice is the two-sided 95 % point of the normal distribution.
const usualTwice = 1.959964

// explainedBy returns the standard deviation between trays treated alike, on the scale, at which the contrast would be no
// more than what 95 of 100 such contrasts without any effect of the treatments stay within:
//
//	|estimate| = 1.96·√(σ²·Σ w²/n + V)
//
// with V what comes from plugs and measuring. It is 0 where V alone is enough.
func (c contrast) explainedBy() float64 {
	v := c.estimate / usualTwice
	return math.Sqrt(math.Max(0, v*v-c.fromPlugs) / c.weight)
}
