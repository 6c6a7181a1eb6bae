package compare

import (
	"maps"
	"math"
	"slices"
)

// A figure derived from plugs is known as well as its plugs' influences on it scatter: with z the change of its logarithm
// that one plug brings about, times n, the variance of the logarithm is s²(z)/n (the delta method; Efron & Tibshirani 1993,
// An Introduction to the Bootstrap, ch. 22).

// quantityCalled returns the measured quantity called name.
func quantityCalled(name string) quantity {
	return measured[slices.IndexFunc(measured, func(q quantity) bool { return q.name == name })]
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
		return 0, nan, 0, false
	}
	ma, mb := mean(as), mean(bs)
	if !(ma > 0 && mb > 0) {
		return 0, nan, len(as), false
	}
	z := make([]float64, len(as))
	for i := range z {
		z[i] = as[i]/ma - bs[i]/mb
	}
	return math.Log(ma / mb), variance(z) / float64(len(z)), len(z), true
}

// relU returns the relative standard uncertainty of a tray's mean from measuring, and the part of it that the photo's plugs have in
// common.
func (t *trial) relU(q quantity, day, tray int) (u, common float64) {
	f, ok := t.figureOf(q, day, tray)
	if !ok {
		return nan, nan
	}
	return f.u / f.value, f.common / f.value
}

// bothU combines the relative uncertainties of two means, NaN where one is not known.
func (t *trial) bothU(a quantity, dayA int, b quantity, dayB, tray int) (u, common float64) {
	uA, commonA := t.relU(a, dayA, tray)
	uB, commonB := t.relU(b, dayB, tray)
	return math.Hypot(uA, uB), math.Hypot(commonA, commonB)
}

// rootToShoot is visible root area over visible leaf area, of the plants that were measured from both sides.
func (t *trial) rootToShoot(day, tray int) (figure, bool) {
	root, leaf := quantityCalled(RootArea), quantityCalled(LeafArea)
	roots := t.plugs(root, day, tray)
	leaves := t.plugs(leaf, day, tray)
	logRatio, plugVar, n, ok := ratioOf(roots, leaves)
	if !ok {
		return figure{}, false
	}
	v := math.Exp(logRatio) / t.shareSeen(leaf, day, tray, len(leaves))
	u, common := t.bothU(root, day, leaf, day, tray)
	return figure{tray: tray, value: v, plugs: n, plugVar: v * v * plugVar, u: v * u, common: v * common}, true
}

// unevenness is the coefficient of variation of the plugs in a tray, in %. A tray of fewer than three plants has none.
//
// With m the mean and s² the variance, the influence of a plug x on ln(s/m) is ((x−m)² − s²)/(2s²) − (x−m)/m.
func (t *trial) unevenness(q quantity, day, tray int) (figure, bool) {
	values := t.plugs(q, day, tray)
	xs := sortedValues(values)
	if len(xs) < 3 || mean(xs) <= 0 || variance(xs) == 0 {
		return figure{}, false
	}
	m, s2 := mean(xs), variance(xs)
	z := make([]float64, len(xs))
	for i, x := range xs {
		z[i] = (float64((x-m)*(x-m))-s2)/(2*s2) - (x-m)/m
	}
	cv := 100 * math.Sqrt(s2) / m
	return figure{tray: tray, value: cv, plugs: len(xs), plugVar: cv * cv * variance(z) / float64(len(xs)), u: nan, common: nan}, true
}

// growthRate is the relative growth rate between two days in % a day, 100·(ln W₂ − ln W₁)/(t₂ − t₁) with W the mean of the
// plants that were measured on both days (Hunt 1982, Plant Growth Curves, ch. 2).
func (t *trial) growthRate(q quantity, from, day, tray int) (figure, bool) {
	before := t.plugs(q, from, tray)
	after := t.plugs(q, day, tray)
	logRatio, plugVar, n, ok := ratioOf(after, before)
	if !ok || day <= from {
		return figure{}, false
	}
	logRatio += t.forCovered(q, day, tray, before, after)
	perDay := 100 / float64(day-from)
	u, common := t.bothU(q, from, q, day, tray)
	return figure{tray: tray, value: perDay * logRatio, plugs: n, plugVar: perDay * perDay * plugVar, u: perDay * u, common: perDay * common}, true
}

// forCovered returns what has to be added to the logarithm of a growth for plants that their neighbours cover on the later day: they
// share its area, and so they count on the earlier day, too.
func (t *trial) forCovered(q quantity, day, tray int, before, after map[string]float64) float64 {
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
	return math.Log(t.shareSeen(q, day, tray, len(after)) * mean(paired) / mean(all))
}

// leastForSeason is how many reviews make a growth rate over all of them.
const leastForSeason = 3

// season returns the review days with photos up to the last one, which day has to be; none for another day.
func (t *trial) season(day int) []int {
	if day != t.reviewBefore(len(t.days)) {
		return nil
	}
	var days []int
	for _, d := range t.days {
		if d <= day && (len(t.plan.ReviewDays) == 0 || slices.Contains(t.plan.ReviewDays, d)) {
			days = append(days, d)
		}
	}
	return days
}

// seasonRate is a tray's relative growth rate over several days in % a day: the slope of the logarithm of its mean on the day, by least
// squares (the functional approach of Hunt 1982, Plant Growth Curves, ch. 3). The tray is the unit that is measured again and again, so its
// days give one figure and are not counted as replicates. A tray without a figure on one of the days has none.
func (t *trial) seasonRate(q quantity, days []int, tray int) (figure, bool) {
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
		f, ok := t.figureOf(q, d, tray)
		if !ok || !(f.value > 0) {
			return figure{}, false
		}
		w := 100 * (float64(d) - center) / across
		slope += float64(w * math.Log(f.value))
		own, error, shared := w*w*f.plugVar/(f.value*f.value), w*f.u/f.value, w*f.common/f.value
		plugVar, u, common = plugVar+own, u+float64(error*error), common+float64(shared*shared)
		plugs = min(plugs, f.plugs)
	}
	return figure{tray: tray, value: slope, plugs: plugs, plugVar: plugVar, u: math.Sqrt(u), common: math.Sqrt(common)}, true
}
