package stats

import (
	"fmt"
	"math"

	"traygauge/measure/stats/dist"
)

// Unit is what was treated as one, with the values measured within it.
type Unit struct {
	Group  string    `json:"group"`
	Name   string    `json:"unit"`
	Values []float64 `json:"values"`
}

// UnitMeans returns one value a unit, the mean of its values, by group in order of appearance.
func UnitMeans(units []Unit) (groups []Group) {
	at := map[string]int{}
	for _, u := range units {
		i, ok := at[u.Group]
		if !ok {
			i = len(groups)
			at[u.Group], groups = i, append(groups, Group{Name: u.Group})
		}
		if len(u.Values) > 0 {
			groups[i].Values = append(groups[i].Values, momentsOf(u.Values).mean())
		}
	}
	return groups
}

// Values returns all values by group, as if they had not been measured within units.
func Values(units []Unit) (groups []Group) {
	at := map[string]int{}
	for _, u := range units {
		i, ok := at[u.Group]
		if !ok {
			i = len(groups)
			at[u.Group], groups = i, append(groups, Group{Name: u.Group})
		}
		groups[i].Values = append(groups[i].Values, u.Values...)
	}
	return groups
}

// NestedANOVA is the analysis of values within units within groups.
type NestedANOVA struct {
	Groups      int        `json:"groups"`
	Units       int        `json:"units"`
	Values      int        `json:"values"`
	SSGroup     float64    `json:"ss_group"`
	DFGroup     int        `json:"df_group"`
	MSGroup     float64    `json:"ms_group"`
	SSUnit      float64    `json:"ss_unit"`
	DFUnit      int        `json:"df_unit"`
	MSUnit      float64    `json:"ms_unit"` // undefined if no group has two units
	SSWithin    float64    `json:"ss_within"`
	DFWithin    int        `json:"df_within"`
	MSWithin    float64    `json:"ms_within"`  // undefined if no unit holds two values
	CoefUnit    float64    `json:"coef_unit"`  // how often the unit variance is in the expected MSUnit
	CoefGroup   float64    `json:"coef_group"` // and in MSGroup
	Components  Components `json:"variance_components"`
	UnitTest    FTest      `json:"unit_test"` // do units of one group differ?
	Possible    bool       `json:"possible"`  // whether the groups can be tested
	Why         string     `json:"why"`
	Exact       bool       `json:"exact"`      // all units hold the same number of values
	GroupTest   FTest      `json:"group_test"` // MSGroup/MSUnit: exact if Exact
	Denominator float64    `json:"synthesised_denominator"`
	Synthesised FTest      `json:"synthesised_test"` // MSGroup/Denominator with Satterthwaite's degrees of freedom
}

// Components are the variances that make a value differ: of units within a group, and of values within a unit.
type Components struct {
	Within   float64 `json:"within"`
	UnitRaw  float64 `json:"unit_raw"` // the moments estimate, which may fall below 0
	Unit     float64 `json:"unit"`     // the same, but not below 0
	ICC      float64 `json:"icc"`      // Unit/(Unit + Within): what values of one unit have in common
	Negative bool    `json:"negative"` // UnitRaw was below 0 and is taken as 0
}

// oneUnitEach is the reason why groups of one unit each cannot be tested.
const oneUnitEach = "every group has only one unit, so the effect of a group cannot be separated from that of its unit and there is no test, p or interval; give each group at least two units"

// nested analyses values within units within groups; numbers of values and of units may differ. The unit is what was treated, so groups
// are tested against units. Expected mean squares with unequal numbers (Searle 1971, Linear Models, ch. 11; Sokal & Rohlf 1995,
// Biometry, sect. 10.3), nᵢⱼ values in unit j of group i, N in all:
//
//	E MSUnit = σ²within + c₁σ²unit     c₁ = (N − Σᵢ Σⱼnᵢⱼ²/nᵢ)/DFUnit
//	E MSGroup = σ²within + c₂σ²unit + … c₂ = (Σᵢ Σⱼnᵢⱼ²/nᵢ − Σnᵢⱼ²/N)/DFGroup
//
// With c₂ ≠ c₁ no mean square is the right denominator; c₂/c₁·MSUnit + (1 − c₂/c₁)·MSWithin is, with Satterthwaite's (1946,
// Biometrics Bull. 2, 110-114) degrees of freedom.
func nested(units []Unit) (NestedANOVA, error) {
	r := NestedANOVA{}
	groups := Values(units)
	if err := check(groups); err != nil {
		return r, err
	}
	seen := map[[2]string]bool{}
	for _, u := range units {
		if len(u.Values) == 0 {
			return r, fmt.Errorf("unit %s of %s holds no values: leave it out", quoted(u.Name), quoted(u.Group))
		}
		if key := [2]string{u.Group, u.Name}; seen[key] {
			return r, fmt.Errorf("%s has two units called %s", quoted(u.Group), quoted(u.Name))
		} else {
			seen[key] = true
		}
	}
	r.squares(units, groups)
	r.components()
	r.test()
	return r, nil
}

// squares fills in sums of squares, degrees of freedom and the coefficients.
func (r *NestedANOVA) squares(units []Unit, groups []Group) {
	pivot := units[0].Values[0]
	size, mean := map[string]float64{}, map[string]float64{}
	ms := sharedMoments(groups)
	for i, g := range groups {
		size[g.Name], mean[g.Name] = ms[i].n, ms[i].shift
	}
	r.SSGroup = between(ms)
	n, inGroups, all, scale := 0.0, 0.0, 0.0, 0.0
	for _, u := range units {
		m := momentsAbout(pivot, u.Values)
		d := m.shift - mean[u.Group]
		r.SSUnit += float64(m.n * d * d)
		r.SSWithin += m.squares
		n, inGroups, all = n+m.n, inGroups+m.n*m.n/size[u.Group], all+m.n*m.n
		scale = max(scale, m.scale)
	}
	if flat(r.SSWithin, n, scale) {
		r.SSWithin = 0
	}
	if flat(r.SSUnit, n, scale) {
		r.SSUnit = 0
	}
	r.Groups, r.Units, r.Values = len(groups), len(units), int(n)
	r.DFGroup, r.DFUnit, r.DFWithin = r.Groups-1, r.Units-r.Groups, r.Values-r.Units
	over := func(ss float64, df int) float64 {
		if df == 0 {
			return math.NaN()
		}
		return ss / float64(df)
	}
	r.MSGroup, r.MSUnit, r.MSWithin = over(r.SSGroup, r.DFGroup), over(r.SSUnit, r.DFUnit), over(r.SSWithin, r.DFWithin)
	r.CoefUnit, r.CoefGroup = over(n-inGroups, r.DFUnit), over(inGroups-all/n, r.DFGroup)
	r.Exact = true
	for _, u := range units {
		r.Exact = r.Exact && len(u.Values) == len(units[0].Values)
	}
}

func (r *NestedANOVA) components() {
	c := Components{Within: r.MSWithin, UnitRaw: (r.MSUnit - r.MSWithin) / r.CoefUnit}
	c.Unit, c.Negative = max(0, c.UnitRaw), c.UnitRaw < 0
	c.ICC = c.Unit / (c.Unit + c.Within)
	r.Components = c
	r.UnitTest = fTest(r.MSUnit/r.MSWithin, float64(r.DFUnit), float64(r.DFWithin))
}

func fTest(f, d1, d2 float64) FTest { return FTest{f, d1, d2, dist.UpperF(f, d1, d2)} }

func (r *NestedANOVA) test() {
	nan := math.NaN()
	none := FTest{nan, nan, nan, nan}
	r.GroupTest, r.Synthesised, r.Denominator = none, none, nan
	switch {
	case r.DFUnit == 0:
		r.Why, r.UnitTest = oneUnitEach, none
		return
	case r.MSUnit == 0:
		r.Why = "the units within groups are all equal, so differences between groups cannot be tested"
		return
	}
	r.Possible = true
	r.GroupTest = fTest(r.MSGroup/r.MSUnit, float64(r.DFGroup), float64(r.DFUnit))
	k, df := r.CoefGroup/r.CoefUnit, float64(r.DFUnit)
	if r.Exact || r.DFWithin == 0 {
		k, r.Denominator = 1, r.MSUnit
	} else {
		a, b := k*r.MSUnit, (1-k)*r.MSWithin
		r.Denominator = a + b
		df = r.Denominator * r.Denominator / (a*a/float64(r.DFUnit) + b*b/float64(r.DFWithin))
	}
	if r.Denominator > 0 {
		r.Synthesised = fTest(r.MSGroup/r.Denominator, float64(r.DFGroup), df)
	}
}
