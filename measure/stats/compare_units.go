package stats

import (
	"errors"
	"math"

	"traygauge/measure/stats/dist"
)

// UnitSummary describes the values within one unit.
type UnitSummary struct {
	Group string  `json:"group"`
	Unit  string  `json:"unit"`
	N     int     `json:"n"`
	Mean  float64 `json:"mean"`
	SD    float64 `json:"sd"`
	CVPct float64 `json:"cv_pct"` // how uneven the unit is
}

// UnitResult is a Result on the units' means, with what the values within units add.
type UnitResult struct {
	Result
	Units   []UnitSummary `json:"units"`
	Nested  NestedANOVA   `json:"nested"`
	Between []UnitPair    `json:"between_units"` // where groups have one unit each: instead of comparisons
}

// CompareUnits compares groups of units by their units' means: of each unit the arithmetic mean of its values, of which on the log scale
// the logarithm is taken. Where every group has only one unit there is no test of groups; then the units themselves are compared.
func CompareUnits(units []Unit, o Options) (UnitResult, error) {
	if o.Level == 0 {
		o.Level = 0.95
	}
	nested, err := nested(units)
	if err != nil {
		return UnitResult{}, err
	}
	r := UnitResult{Nested: nested}
	if r.Result, err = Compare(UnitMeans(units), o); err != nil {
		return UnitResult{}, err
	}
	for _, u := range units {
		s := describe(Group{u.Name, u.Values}, o.Level)
		r.Units = append(r.Units, UnitSummary{u.Group, u.Name, s.N, s.Mean + o.Offset, s.SD, 100 * s.SD / (s.Mean + o.Offset)})
		if !(s.Mean+o.Offset > 0) {
			r.Units[len(r.Units)-1].CVPct = math.NaN()
		}
	}
	if nested.DFUnit == 0 {
		r.Why = oneUnitEach
		r.Between = betweenAll(units, o)
	}
	return r, nil
}

// betweenAll compares each unit with the control's, or every pair; units that allow no interval are left out.
func betweenAll(units []Unit, o Options) (pairs []UnitPair) {
	for i, a := range units {
		for j, b := range units {
			if o.Control != "" && (b.Group != o.Control || i == j) || o.Control == "" && i <= j {
				continue
			}
			if p, err := betweenUnits(a, b, o.Level, o.Offset); err == nil {
				pairs = append(pairs, p)
			}
		}
	}
	return pairs
}

// UnitPair compares two single units by the values within them. It holds between these units, not between what was done to them.
type UnitPair struct {
	A          string    `json:"a"` // groups of the units
	B          string    `json:"b"`
	Difference float64   `json:"difference"` // of the means, a − b
	Lower      float64   `json:"difference_lower"`
	Upper      float64   `json:"difference_upper"`
	Ratio      MeanRatio `json:"ratio"`
	// What would explain the difference away: with this standard deviation between units treated alike, two of them would differ by as
	// much or more 1 time in 20 for no reason at all. 0: the values within the units explain it already.
	ExplainSD    float64 `json:"explained_by_unit_sd"`
	ExplainCVPct float64 `json:"explained_by_unit_cv_pct"` // the same on the log scale, in % of a unit's mean
}

// betweenUnits compares a with b by Welch's t on the values within, each with its own variance, not adjusted; the ratio's interval is
// Fieller's. With u the standard error of the difference d, the standard deviation τ between units that makes |d| = 1.96·√(2τ² + u²) is
// the one that would explain it away. offset was taken off all values (see ParseCentred), else 0.
func betweenUnits(a, b Unit, level, offset float64) (UnitPair, error) {
	if len(a.Values) < 2 || len(b.Values) < 2 {
		return UnitPair{}, errors.New("a unit with one value does not show the variation within units: measure at least two values in each")
	}
	if err := checkLevel(level); err != nil {
		return UnitPair{}, err
	}
	ma, mb := momentsAbout(b.Values[0], a.Values), momentsOf(b.Values)
	if ma.flat() && mb.flat() {
		return UnitPair{}, errNoVariation
	}
	d, se, df := welchT(mb, ma)
	critical := dist.TwoSidedTQuantile(1-level, df)
	p := UnitPair{A: a.Group, B: b.Group, Difference: d, Lower: d - critical*se, Upper: d + critical*se}
	meanA, meanB, va, vb := ma.mean()+offset, mb.mean()+offset, ma.variance()/ma.n, mb.variance()/mb.n
	explain := func(d, variance float64) float64 {
		z := dist.TwoSidedTQuantile(0.05, math.Inf(1))
		return math.Sqrt(max(0, d*d/(z*z)-variance) / 2)
	}
	p.ExplainSD, p.ExplainCVPct = explain(d, se*se), math.NaN()
	nan := math.NaN()
	p.Ratio = MeanRatio{Group: a.Group, Ratio: nan, Lower: nan, Upper: nan}
	if meanB > 0 {
		p.Ratio = fiellerRatio(meanA, va, meanB, vb, critical)
		p.Ratio.Group = a.Group
		if meanA > 0 {
			p.ExplainCVPct = 100 * explain(math.Log(meanA/meanB), va/(meanA*meanA)+vb/(meanB*meanB))
		}
	}
	return p, nil
}
