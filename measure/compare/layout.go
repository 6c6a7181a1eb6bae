package compare

import (
	"math"
	"slices"
	"strings"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// group is one treatment's trays in one quantity on one day.
type group struct {
	treatment string
	figures   []trayfigure.Figure
	missing   []int // trays of the plan without a figure
}

func (g group) trays() []int {
	numbers := []int{}
	for _, f := range g.figures {
		numbers = append(numbers, f.Tray)
	}
	return numbers
}

func (g group) plugs() int {
	n := 0
	for _, f := range g.figures {
		n += f.Plugs
	}
	return n
}

// layout is all figures of one quantity on one day, with the scatter between trays treated alike.
type layout struct {
	trayfigure.About
	groups []group // in the plan's order
	limits []string

	pooled  float64 // variance between trays treated alike, on the scale; NaN without replicate trays
	df      int     // degrees of freedom of pooled
	floor   float64 // what plugs and photos alone make of it, see scatter; NaN: not known
	floorDF int     // degrees of freedom of floor
	trayVar float64 // what of pooled is not explained by floor, at least 0
	plugVar float64 // variance between plugs of one tray, on the scale
	uneven  bool    // the treatments' trays scatter so differently that each keeps its own scatter
	ranks   bool    // the trays' scatter has such a shape that they are compared by ranks

	model   *model // of where the trays stand; nil: anywhere
	angular bool   // a share of so many plugs, see angle
	memo    arithmetic.Memo
}

// lay fills a layout, of which is known what it is about, with the trays' figures. get returns one.
func (t *trial) lay(l *layout, get func(tray int) (trayfigure.Figure, bool)) *layout {
	return t.layBy(l, get, t.placesOf)
}

// layBy is lay with a model of where the trays stand.
func (t *trial) layBy(l *layout, get func(tray int) (trayfigure.Figure, bool), model func(*layout) *model) *layout {
	l.memo = t.memo
	for _, treatment := range t.Plan.Treatments {
		g := group{treatment: treatment.Name}
		numbers := t.Plan.TraysOf(treatment.Name)
		slices.Sort(numbers)
		for _, tray := range numbers {
			if f, ok := get(tray); ok {
				g.figures = append(g.figures, f)
			} else {
				g.missing = append(g.missing, tray)
			}
		}
		l.groups = append(l.groups, g)
	}
	if l.LeftOut != "" {
		l.limits = append(l.limits, l.LeftOut)
	}
	l.leaveLogScale()
	if l.model = model(l); l.model != nil {
		l.limits = append(l.limits, t.placeWords(l))
	}
	l.scatter()
	l.choose(t.largestFamily(l))
	return l
}

// leaveLogScale turns to differences where a tray's figure is 0 or less or too small to measure: it has no logarithm that means
// anything, and adding a constant to make one would let the constant decide the result.
func (l *layout) leaveLogScale() {
	if l.Scale != outcome.Ratio {
		return
	}
	var none, faint []int
	for _, f := range l.all() {
		switch {
		case !(f.Value > 0):
			none = append(none, f.Tray)
		case f.Faint:
			faint = append(faint, f.Tray)
		}
	}
	var said []string
	if len(none) > 0 {
		slices.Sort(none)
		said = append(said, wording.TraysDo(none, "shows", "show")+" none at all")
	}
	if len(faint) > 0 {
		slices.Sort(faint)
		said = append(said, wording.TraysDo(faint, "shows", "show")+" too little to measure")
	}
	if len(said) > 0 {
		l.Scale = outcome.Difference
		l.limits = append(l.limits, strings.Join(said, ", ")+", so there is no ratio on this day and differences are compared")
	}
}

// y returns a figure on the scale on which trays are compared.
func (l *layout) y(f trayfigure.Figure) float64 {
	switch {
	case l.angular:
		return angle(f)
	case l.Scale == outcome.Ratio:
		return math.Log(f.Value)
	}
	return f.Value
}

// onScale turns a standard deviation or the root of a variance of a figure's value into one on the scale.
func (l *layout) onScale(f trayfigure.Figure, s float64) float64 {
	switch {
	case l.angular && !math.IsNaN(s):
		return angleSD(f)
	case l.Scale == outcome.Ratio:
		return s / f.Value
	}
	return s
}

func (l *layout) ys(g group) []float64 {
	ys := make([]float64, len(g.figures))
	for i, f := range g.figures {
		ys[i] = l.y(f)
	}
	return ys
}

// scatter calculates the variance between trays treated alike, pooled over treatments, and splits it into what is between trays and
// what is within them. A tray's figure is the mean over its plugs from one photo, so that the scatter has
//
//	E s² = σ²(tray) + mean of (σ²(plug)/n + u²) over the trays
//
// with u what a photo's plugs have in common of their error of measuring. Solved for σ²(tray) and never taken to be below 0 that is
// the restricted maximum likelihood estimate for trays of equal size (Patterson & Thompson 1971, Biometrika 58, 545-554; Searle,
// Casella & McCulloch 1992, Variance Components, ch. 3 and 4). The mean is weighted by how much of a tray's own scatter its residual has left,
// 1 − its leverage.
func (l *layout) scatter() {
	l.pooled, l.floor, l.trayVar, l.plugVar = arithmetic.NaN, arithmetic.NaN, arithmetic.NaN, arithmetic.NaN
	residuals, left := l.residuals()
	sum, floor, plugSum, plugDF, i := 0.0, 0.0, 0.0, 0, 0
	for _, g := range l.groups {
		var within []float64 // the variance of each tray's figure
		share := 0.0
		for _, f := range g.figures {
			if s := l.onScale(f, math.Sqrt(f.PlugVar)); !math.IsNaN(s) {
				w := l.onScale(f, math.Sqrt(f.Within()))
				within = append(within, w*w)
				plugSum += float64(s*s) * float64(f.Plugs) * float64(f.Plugs-1)
				plugDF += f.Plugs - 1
			}
			sum += float64(residuals[i] * residuals[i])
			share += left[i]
			i++
		}
		if len(within) > 0 {
			floor += arithmetic.Mean(within) * share
		}
	}
	if plugDF > 0 {
		l.plugVar, l.floorDF = plugSum/float64(plugDF), plugDF
	}
	if l.df = l.freedom(); l.df == 0 {
		return
	}
	l.pooled = sum / float64(l.df)
	if plugDF > 0 {
		l.floor = floor / float64(l.df)
		l.trayVar = math.Max(0, l.pooled-l.floor)
	}
}

// residuals returns what treatments, and places where there is a model of them, leave of each tray's figure, and one minus the figure's
// leverage, in the order of all.
func (l *layout) residuals() (residuals, left []float64) {
	if l.model != nil {
		for _, h := range l.model.linear.Leverages() {
			left = append(left, math.Max(0, 1-h))
		}
		var ys []float64
		for _, g := range l.groups {
			ys = append(ys, l.ys(g)...)
		}
		return l.model.linear.Residuals(ys), left
	}
	for _, g := range l.groups {
		n, ys := len(g.figures), l.ys(g)
		for _, y := range ys {
			residuals, left = append(residuals, y-arithmetic.Mean(ys)), append(left, 1-1/float64(n))
		}
	}
	return residuals, left
}

// freedom is the residuals' degrees of freedom.
func (l *layout) freedom() int {
	if l.model != nil {
		return l.model.linear.DF
	}
	df := 0
	for _, g := range l.groups {
		df += max(0, len(g.figures)-1)
	}
	return df
}

// known returns the variance that so many comparisons are judged by together and its degrees of freedom: the trays' own scatter, but never less than
// their floor. Where it is below the floor or hardly above it (see poolBelow) trays and plugs are taken to have one scatter, and
// their degrees of freedom count together; otherwise the trays' alone do (a preliminary test, Bozivich, Bancroft & Hartley 1956, Ann.
// Math. Statist. 27, 1017-1043).
func (l *layout) known(together int) (variance, df float64) {
	variance, df = l.pooled, float64(l.df)
	if math.IsNaN(l.floor) {
		return variance, df
	}
	if l.pooled < poolBelow(l.df, together)*l.floor {
		df += float64(l.floorDF)
	}
	return math.Max(l.pooled, l.floor), df
}

// group returns the group of a treatment.
func (l *layout) group(treatment string) group {
	i := slices.IndexFunc(l.groups, func(g group) bool { return g.treatment == treatment })
	if i < 0 {
		return group{treatment: treatment}
	}
	return l.groups[i]
}

// byTrays reports whether there is scatter between trays treated alike to judge by.
func (l *layout) byTrays() bool { return l.df > 0 }

// shown turns a standard deviation on the scale into what Comparison's variations are given in.
func (l *layout) shown(s float64) reading.Number { return l.fromScale(s, arithmetic.CVPct) }

// back returns an estimate as it is shown: a logarithm as a ratio.
func (l *layout) back(y float64) reading.Number { return l.fromScale(y, math.Exp) }

// fromScale returns what y on the scale is off it: angles as points, logarithms by ofLog, all else as it is.
func (l *layout) fromScale(y float64, ofLog func(float64) float64) reading.Number {
	switch {
	case l.angular:
		return arithmetic.Number(points(2*l.middle(), y))
	case l.Scale == outcome.Ratio:
		return arithmetic.Number(ofLog(y))
	}
	return arithmetic.Number(y)
}

// meanOf returns a treatment's mean over its trays in the unit: the geometric one on the ratio scale, adjusted for where its trays stand
// where there is a model of that.
func (l *layout) meanOf(g group) reading.Number {
	switch {
	case len(g.figures) == 0:
		return reading.Missing
	case l.angular:
		return arithmetic.Number(l.sharePoints(l.weights(term{g, 1})))
	case l.model == nil:
		return l.back(arithmetic.Mean(l.ys(g)))
	}
	return l.back(l.estimate(l.weights(term{g, 1})))
}

// estimate is the weighted sum of the trays' figures on the scale.
func (l *layout) estimate(weights []float64) float64 {
	sum := 0.0
	for i, f := range l.all() {
		sum += float64(weights[i] * l.y(f))
	}
	return sum
}
