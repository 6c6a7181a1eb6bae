package trayfigure

import (
	"maps"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// A figure derived from plugs is known as well as its plugs' influences on it scatter: with z the change of its logarithm
// that one plug brings about, times n, the variance of the logarithm is s²(z)/n (the delta method; Efron & Tibshirani 1993,
// An Introduction to the Bootstrap, ch. 22).

// QuantityCalled returns the measured quantity called name.
func QuantityCalled(name string) Quantity {
	return Measured[slices.IndexFunc(Measured, func(q Quantity) bool { return q.Name == name })]
}

// ratioOf returns the logarithm of mean(a)/mean(b) over the plugs in both, its variance from the plugs, and how many there
// are. ok is false when one mean is not above 0.
func ratioOf(a, b map[string]float64) (logRatio, plugVar float64, n int, ok bool) {
	var as, bs []float64
	for _, name := range slices.Sorted(maps.Keys(a)) {
		if v, both := b[name]; both {
			as, bs = append(as, a[name]), append(bs, v)
		}
	}
	if len(as) == 0 {
		return 0, arithmetic.NaN, 0, false
	}
	ma, mb := arithmetic.Mean(as), arithmetic.Mean(bs)
	if !(ma > 0 && mb > 0) {
		return 0, arithmetic.NaN, len(as), false
	}
	z := make([]float64, len(as))
	for i := range z {
		z[i] = as[i]/ma - bs[i]/mb
	}
	return math.Log(ma / mb), arithmetic.Variance(z) / float64(len(z)), len(z), true
}

// relU returns the relative standard uncertainty of a tray's mean from measuring, and the part of it that the photo's plugs have in
// common.
func (t *Trial) relU(q Quantity, day, tray int) (u, common float64) {
	f, ok := t.FigureOf(q, day, tray)
	if !ok {
		return arithmetic.NaN, arithmetic.NaN
	}
	return f.U / f.Value, f.Common / f.Value
}

// bothU combines the relative uncertainties of two means, NaN where one is not known.
func (t *Trial) bothU(a Quantity, dayA int, b Quantity, dayB, tray int) (u, common float64) {
	uA, commonA := t.relU(a, dayA, tray)
	uB, commonB := t.relU(b, dayB, tray)
	return math.Hypot(uA, uB), math.Hypot(commonA, commonB)
}

// rootToShoot is visible root area over visible leaf area, of the plants that were measured from both sides.
func (t *Trial) rootToShoot(day, tray int) (Figure, bool) {
	root, leaf := QuantityCalled(outcome.RootArea), QuantityCalled(outcome.LeafArea)
	roots := t.Plugs(root, day, tray)
	leaves := t.Plugs(leaf, day, tray)
	logRatio, plugVar, n, ok := ratioOf(roots, leaves)
	if !ok || t.faint(leaf, day, tray) {
		return Figure{}, false
	}
	v := math.Exp(logRatio) / t.shareSeen(leaf, day, tray, len(leaves))
	u, common := t.bothU(root, day, leaf, day, tray)
	return Figure{Tray: tray, Value: v, Plugs: n, PlugVar: v * v * plugVar, U: v * u, Common: v * common, Faint: t.faint(root, day, tray)}, true
}

// unevenness is the coefficient of variation of the plugs in a tray, in %. A tray of fewer than three plants has none, nor has one whose mean
// is too small to measure.
//
// With m the mean and s² the variance, the influence of a plug x on ln(s/m) is ((x−m)² − s²)/(2s²) − (x−m)/m.
func (t *Trial) unevenness(q Quantity, day, tray int) (Figure, bool) {
	values := t.Plugs(q, day, tray)
	xs := arithmetic.SortedValues(values)
	if len(xs) < 3 || arithmetic.Mean(xs) <= 0 || arithmetic.Variance(xs) == 0 || t.faint(q, day, tray) {
		return Figure{}, false
	}
	m, s2 := arithmetic.Mean(xs), arithmetic.Variance(xs)
	z := make([]float64, len(xs))
	for i, x := range xs {
		z[i] = (float64((x-m)*(x-m))-s2)/(2*s2) - (x-m)/m
	}
	cv := 100 * math.Sqrt(s2) / m
	return Figure{Tray: tray, Value: cv, Plugs: len(xs), PlugVar: cv * cv * arithmetic.Variance(z) / float64(len(xs)), U: arithmetic.NaN, Common: arithmetic.NaN}, true
}

// growthRate is the relative growth rate between two days in % a day, 100·(ln W₂ − ln W₁)/(t₂ − t₁) with W the mean of the
// plants that were measured on both days (Hunt 1982, Plant Growth Curves, ch. 2). Between amounts too small to measure there is none.
func (t *Trial) growthRate(q Quantity, from, day, tray int) (Figure, bool) {
	before := t.Plugs(q, from, tray)
	after := t.Plugs(q, day, tray)
	logRatio, plugVar, n, ok := ratioOf(after, before)
	if !ok || day <= from || t.faint(q, from, tray) || t.faint(q, day, tray) {
		return Figure{}, false
	}
	logRatio += t.forCovered(q, day, tray, before, after)
	perDay := 100 / float64(day-from)
	u, common := t.bothU(q, from, q, day, tray)
	return Figure{Tray: tray, Value: perDay * logRatio, Plugs: n, PlugVar: perDay * perDay * plugVar, U: perDay * u, Common: perDay * common}, true
}

// forCovered returns what has to be added to the logarithm of a growth for plants that their neighbours cover on the later day: they
// share its area, and so they count on the earlier day, too.
func (t *Trial) forCovered(q Quantity, day, tray int, before, after map[string]float64) float64 {
	covered := t.covered(q, day, tray)
	if len(covered) == 0 {
		return 0
	}
	var paired, all []float64
	for _, name := range slices.Sorted(maps.Keys(before)) {
		_, seen := after[name]
		if seen {
			paired = append(paired, before[name])
		}
		if seen || slices.Contains(covered, name) {
			all = append(all, before[name])
		}
	}
	return math.Log(t.shareSeen(q, day, tray, len(after)) * arithmetic.Mean(paired) / arithmetic.Mean(all))
}

// leastForSeason is how many reviews make a growth rate over all of them.
const leastForSeason = 3

// season returns the review days with photos up to the last one, which day has to be; none for another day.
func (t *Trial) season(day int) []int {
	if day != t.ReviewBefore(len(t.Days)) {
		return nil
	}
	var days []int
	for _, d := range t.Days {
		if d <= day && (len(t.Plan.ReviewDays) == 0 || slices.Contains(t.Plan.ReviewDays, d)) {
			days = append(days, d)
		}
	}
	return days
}

// seasonRate is a tray's relative growth rate over several days in % a day: the slope of the logarithm of its mean on the day, by least
// squares (the functional approach of Hunt 1982, Plant Growth Curves, ch. 3). The tray is the unit that is measured again and again, so its
// days give one figure and are not counted as replicates. A tray without a figure on one of the days has none.
func (t *Trial) seasonRate(q Quantity, days []int, tray int) (Figure, bool) {
	if len(days) < leastForSeason {
		return Figure{}, false
	}
	center := 0.0
	for _, d := range days {
		center += float64(d) / float64(len(days))
	}
	across := 0.0
	for _, d := range days {
		across += float64((float64(d) - center) * (float64(d) - center))
	}
	slope, plugVar, u, common, plugs := 0.0, 0.0, 0.0, 0.0, math.MaxInt
	for _, d := range days {
		f, ok := t.FigureOf(q, d, tray)
		if !ok || !(f.Value > 0) || f.Faint {
			return Figure{}, false
		}
		w := 100 * (float64(d) - center) / across
		slope += float64(w * math.Log(f.Value))
		own, error, shared := w*w*f.PlugVar/(f.Value*f.Value), w*f.U/f.Value, w*f.Common/f.Value
		plugVar, u, common = plugVar+own, u+float64(error*error), common+float64(shared*shared)
		plugs = min(plugs, f.Plugs)
	}
	return Figure{Tray: tray, Value: slope, Plugs: plugs, PlugVar: plugVar, U: math.Sqrt(u), Common: math.Sqrt(common)}, true
}

// About is what is known of a quantity on a day before there are figures.
type About struct {
	Name, Unit string
	Day        int
	From       *int // of a growth rate
	Scale      outcome.Scale
	OfTrays    bool   // a single plug has none of it
	LeftOut    string // of a growth rate: why days are left out of it, or why there is none at all; "" where it has all its days
	Needs      []Need // Photos behind a tray's figure
}

// Need is a photo without which a tray has no figure.
type Need struct {
	Day  int
	View reading.View
}

// derivedQuantity is one that is calculated from others.
type derivedQuantity struct {
	About  About // what is known of it before there are figures
	Figure func(tray int) (Figure, bool)
}

// Derived lists what is calculated from the measured quantities on a day. Growth rates are since day from, none where it is -1.
func (t *Trial) Derived(from, day int) []derivedQuantity {
	root, leaf := QuantityCalled(outcome.RootArea), QuantityCalled(outcome.LeafArea)
	list := []derivedQuantity{{About{Name: outcome.RootToShoot, Unit: "mm²/mm²", Scale: outcome.Ratio, Day: day, Needs: []Need{{day, root.View}, {day, leaf.View}}},
		func(tray int) (Figure, bool) { return t.rootToShoot(day, tray) }}}
	for _, d := range []struct {
		of                   Quantity
		uneven, rate, season string
	}{{root, outcome.RootUneven, outcome.RootGrowth, outcome.RootSeason}, {leaf, outcome.LeafUneven, outcome.LeafGrowth, outcome.LeafSeason}} {
		list = append(list, derivedQuantity{About{Name: d.uneven, Unit: "% CV", Scale: outcome.Ratio, Day: day, OfTrays: true, Needs: []Need{{day, d.of.View}}},
			func(tray int) (Figure, bool) { return t.unevenness(d.of, day, tray) }})
		if season := t.season(day); len(season) >= leastForSeason {
			list = append(list, t.overSeason(d.of, d.season, season))
		}
		if from >= 0 {
			list = append(list, t.sinceReview(d.of, d.rate, from, day))
		}
	}
	return list
}

// overSeason is the growth rate over a season's days, or over those of them that have amounts to tell one by.
func (t *Trial) overSeason(q Quantity, name string, season []int) derivedQuantity {
	days, leftOut := t.grownFrom(q, season)
	first := season[0]
	if len(days) >= leastForSeason {
		first = days[0]
	}
	d := derivedQuantity{About: About{Name: name, Unit: "% a day", Scale: outcome.Difference, Day: season[len(season)-1], From: &first, LeftOut: leftOut},
		Figure: func(tray int) (Figure, bool) { return t.seasonRate(q, days, tray) }}
	for _, on := range days {
		d.About.Needs = append(d.About.Needs, Need{on, q.View})
	}
	return d
}

// sinceReview is the growth rate since an earlier day.
func (t *Trial) sinceReview(q Quantity, name string, from, day int) derivedQuantity {
	d := derivedQuantity{About: About{Name: name, Unit: "% a day", Scale: outcome.Difference, Day: day, From: &from, Needs: []Need{{from, q.View}, {day, q.View}}},
		Figure: func(tray int) (Figure, bool) { return t.growthRate(q, from, day, tray) }}
	if trays := t.fromNothing(q, from, day); len(trays) > 0 {
		d.About.LeftOut = faintWords(q, from, trays) + ", so growth is not counted from that day"
		d.Figure = func(int) (Figure, bool) { return Figure{}, false }
	}
	return d
}
