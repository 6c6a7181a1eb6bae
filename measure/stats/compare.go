package stats

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Scale is what values are compared on.
type Scale string

// LogScale compares by ratio, RawScale by difference; AnyScale leaves it to the rule.
const (
	AnyScale Scale = ""
	LogScale Scale = "log"
	RawScale Scale = "raw"
)

// Procedure is a family of tests.
type Procedure string

// OneVariance, OwnVariances and ByRanks are the families that Compare chooses from; AnyProcedure leaves it to the rule.
const (
	AnyProcedure Procedure = ""
	OneVariance  Procedure = "one variance"
	OwnVariances Procedure = "own variances"
	ByRanks      Procedure = "ranks"
)

// The limits of the rule by which Compare chooses: p values, fixed before any data are seen. With them false alarms stay as claimed (make calibrate-stats).
const (
	ShapeLimit  = 0.01 // Shapiro-Wilk below it: clearly not normal
	SpreadLimit = 0.05 // Brown-Forsythe below it: spreads differ
)

// Rule is the rule in words, for people.
const Rule = `1. Scale. If all values are above 0, they are compared as ratios, on the log scale. The exception: the residuals are clearly not
   normal on the log scale (Shapiro-Wilk p < 0.01), but not clearly so on the plain scale. Then, or if a value is 0 or negative,
   values are compared as differences.
2. Shape. If the residuals are clearly not normal on either scale, ranks are compared (Wilcoxon’s rank sum, Holm).
3. Spread. If the groups’ spreads on that scale differ (Brown-Forsythe p < 0.05), each group keeps its own variance: Welch’s t
   with the multivariate t against a control, Games-Howell for all pairs.
4. Otherwise all groups share one variance: Dunnett against a control, Tukey-Kramer for all pairs.`

// Options say how Compare compares. The zero value compares every pair with 95 % confidence, as the rule chooses.
type Options struct {
	Control   string  // every other group is compared with it; "" for every pair
	Level     float64 // of all intervals together; 0 is 0.95
	Scale     Scale
	Procedure Procedure
	Offset    float64 // what was taken off every value beforehand, see ParseCentred
}

// DetectablePower is the power that Effect.Detectable is calculated for, the usual one (Cohen 1988, Statistical Power Analysis, 2.4; from memory).
const DetectablePower = 0.8

// Effect is one comparison as people read it. Detectable is the smallest ratio above 1 or difference above 0 that this comparison would show with
// that power if it were done again with as many values that vary as much: a guide for the next trial, no judgement of this one. What its scale does not give is NaN; an interval without an end is infinite or NaN.
type Effect struct {
	A               string  `json:"a"`
	B               string  `json:"b"`
	Ratio           float64 `json:"ratio"` // a/b
	RatioLower      float64 `json:"ratio_lower"`
	RatioUpper      float64 `json:"ratio_upper"`
	Difference      float64 `json:"difference"` // a − b
	DifferenceLower float64 `json:"difference_lower"`
	DifferenceUpper float64 `json:"difference_upper"`
	P               float64 `json:"p"`
	PAdj            float64 `json:"p_adj"`
	Detectable      float64 `json:"detectable"`
}

// Overall is the test whether any groups differ that belongs to the procedure.
type Overall struct {
	Test      string  `json:"test"`
	Statistic float64 `json:"statistic"`
	DF1       float64 `json:"df1"`
	DF2       float64 `json:"df2"` // NaN for χ²
	P         float64 `json:"p"`
}

// Result is what Compare found.
type Result struct {
	Groups      []Summary   `json:"groups"`
	Control     string      `json:"control"`
	Level       float64     `json:"level"`
	Possible    bool        `json:"possible"`
	Why         string      `json:"why"` // if not possible
	Scale       Scale       `json:"scale"`
	Procedure   Procedure   `json:"procedure"`
	Steps       []string    `json:"steps"` // what the rule looked at and decided
	Overall     Overall     `json:"overall"`
	Effects     []Effect    `json:"effects"`
	Comparisons Comparisons `json:"comparisons"` // on the scale chosen
	Raw         Checks      `json:"raw"`
	Log         Checks      `json:"log"`
}

// Checks are the tests of all groups together on one scale. What could not be done is nil, and Undefined says why.
type Checks struct {
	ANOVA         *ANOVA            `json:"anova"`
	Welch         *FTest            `json:"welch_anova"`
	KruskalWallis *ChiSquaredTest   `json:"kruskal_wallis"`
	BrownForsythe *FTest            `json:"brown_forsythe_median"`
	LeveneMean    *FTest            `json:"levene_mean"`
	Bartlett      *ChiSquaredTest   `json:"bartlett"`
	ShapiroWilk   *ShapeTest        `json:"shapiro_residuals"`
	Undefined     map[string]string `json:"undefined"`
}

// Compare compares the groups' values, one for each thing that was treated on its own, by the rule in Rule. An error is data that cannot be
// meant; data that allow no test give a Result that is not Possible and says why.
func Compare(groups []Group, o Options) (Result, error) {
	if o.Level == 0 {
		o.Level = 0.95
	}
	if err := errors.Join(check(groups), checkLevel(o.Level)); err != nil {
		return Result{}, err
	}
	if o.Control != "" {
		if _, err := indexOf(groups, o.Control); err != nil {
			return Result{}, err
		}
	}
	r := Result{Control: o.Control, Level: o.Level}
	for _, g := range groups {
		r.Groups = append(r.Groups, describeFrom(o.Offset, g, o.Level))
	}
	logs, logErr := LogFrom(o.Offset, groups)
	if logErr != nil && o.Scale == LogScale {
		return Result{}, logErr
	}
	r.Raw = checks(groups)
	if logErr == nil {
		r.Log = checks(logs)
	} else {
		r.Log.Undefined = map[string]string{"all": logErr.Error()}
	}
	if _, _, err := pooled(groups); err != nil {
		r.Why = err.Error()
		r.Overall = Overall{"none", math.NaN(), math.NaN(), math.NaN(), math.NaN()}
		return r, nil
	}
	r.Possible = true
	r.choose(o, logErr == nil)
	on := groups
	if r.Scale == LogScale {
		on = logs
	}
	var err error
	if r.Comparisons, err = compareBy(r.Procedure, on, o); err != nil {
		return Result{}, err
	}
	if r.Procedure == ByRanks {
		r.fewForRanks(groups)
	}
	r.Overall = r.overall()
	r.Effects = effects(r, groups, o.Offset)
	return r, nil
}

// describeFrom describes values that offset was taken off.
func describeFrom(offset float64, g Group, level float64) Summary {
	s := describe(g, level)
	if offset != 0 {
		for _, v := range []*float64{&s.Mean, &s.Lower, &s.Upper, &s.Median, &s.Min, &s.Max} {
			*v += offset
		}
		s.CVPct = math.NaN()
		if s.Mean > 0 {
			s.CVPct = 100 * s.SD / s.Mean
		}
	}
	return s
}

// LogFrom takes the logarithms of values that offset was taken off: all of them lessened by ln(offset), which no comparison sees.
func LogFrom(offset float64, groups []Group) ([]Group, error) {
	if offset == 0 {
		return logarithms(groups)
	}
	logs := make([]Group, len(groups))
	for i, g := range groups {
		logs[i] = Group{g.Name, make([]float64, len(g.Values))}
		for j, v := range g.Values {
			if !(offset > 0) || !(v+offset > 0) {
				return logarithms([]Group{{g.Name, []float64{v + offset}}})
			}
			logs[i].Values[j] = math.Log1p(v / offset)
		}
	}
	return logs, nil
}

// checks runs every test of all groups together.
func checks(groups []Group) Checks {
	c := Checks{Undefined: map[string]string{}}
	if a, err := oneWay(groups); c.done("anova", err) {
		c.ANOVA = &a
	}
	if w, err := welchANOVA(groups); c.done("welch_anova", err) {
		c.Welch = &w
	}
	if k, err := kruskalWallis(groups); c.done("kruskal_wallis", err) {
		c.KruskalWallis = &k
	}
	if b, err := Levene(groups, BrownForsythe); c.done("brown_forsythe_median", err) {
		c.BrownForsythe = &b
	}
	if l, err := Levene(groups, LeveneMean); c.done("levene_mean", err) {
		c.LeveneMean = &l
	}
	if b, err := bartlett(groups); c.done("bartlett", err) {
		c.Bartlett = &b
	}
	if s, err := ShapiroWilk(Residuals(groups)); c.done("shapiro_residuals", err) {
		c.ShapiroWilk = &s
	}
	return c
}

func (c *Checks) done(what string, err error) bool {
	if err != nil {
		c.Undefined[what] = err.Error()
	}
	return err == nil
}

// clearlyNotNormal reports whether the shape of the residuals rules the scale out. What cannot be tested does not.
func (c *Checks) clearlyNotNormal() bool { return c.ShapiroWilk != nil && c.ShapiroWilk.P < ShapeLimit }

// shape is what the shape of the residuals says, in words.
func (c *Checks) shape() string {
	switch {
	case c.ShapiroWilk == nil:
		return "the shape of the residuals was not tested (" + c.Undefined["shapiro_residuals"] + ")"
	case c.clearlyNotNormal():
		return fmt.Sprintf("the residuals are clearly not normal (Shapiro-Wilk p %s, below %v)", PText(c.ShapiroWilk.P), ShapeLimit)
	}
	return fmt.Sprintf("the residuals may be normal (Shapiro-Wilk p %s, not below %v)", PText(c.ShapiroWilk.P), ShapeLimit)
}

// choose decides on scale and procedure, and writes down why.
func (r *Result) choose(o Options, positive bool) {
	step := func(format string, args ...any) { r.Steps = append(r.Steps, fmt.Sprintf(format, args...)) }
	r.Scale = o.Scale
	ranks := false
	switch {
	case o.Scale != AnyScale:
		step("scale: %s, as requested", o.Scale)
	case o.Offset != 0:
		r.Scale = RawScale
		step("scale: differences, because the values share their leading digits and their ratios are all close to 1")
		step("shape: %s", r.Raw.shape())
	case !positive:
		r.Scale = RawScale
		step("scale: differences, because not all values are above 0 and the others have no logarithm")
		step("shape: %s", r.Raw.shape())
	case !r.Log.clearlyNotNormal():
		r.Scale = LogScale
		step("scale: ratios (logarithms), because all values are above 0; on that scale %s", r.Log.shape())
	case !r.Raw.clearlyNotNormal():
		r.Scale = RawScale
		step("scale: differences, because on the log scale %s, but on the plain scale %s", r.Log.shape(), r.Raw.shape())
	default:
		r.Scale = LogScale
		step("scale: ratios, because all values are above 0; on both scales %s", r.Log.shape())
		ranks = true
	}
	ranks = ranks || r.on().clearlyNotNormal() && (o.Scale != AnyScale || !positive || o.Offset != 0)
	spread := r.on().BrownForsythe
	switch {
	case o.Procedure != AnyProcedure:
		r.Procedure = o.Procedure
		step("procedure: %s, as requested", o.Procedure)
	case ranks:
		r.Procedure = ByRanks
		step("procedure: ranks")
	case spread == nil:
		r.Procedure = OneVariance
		step("spread: not tested (%s); all groups share one variance", r.on().Undefined["brown_forsythe_median"])
	case spread.P < SpreadLimit && r.on().Welch != nil:
		r.Procedure = OwnVariances
		step("spread: the groups’ spreads differ (Brown-Forsythe p %s, below %v); each group keeps its own variance", PText(spread.P), SpreadLimit)
	case spread.P < SpreadLimit:
		r.Procedure = ByRanks
		step("spread: the groups’ spreads differ (Brown-Forsythe p %s, below %v), but %s; ranks are used", PText(spread.P), SpreadLimit, r.on().Undefined["welch_anova"])
	default:
		r.Procedure = OneVariance
		step("spread: the groups’ spreads may be equal (Brown-Forsythe p %s, not below %v); all groups share one variance", PText(spread.P), SpreadLimit)
	}
}

// on returns the checks on the scale chosen.
func (r *Result) on() *Checks {
	if r.Scale == LogScale {
		return &r.Log
	}
	return &r.Raw
}

// PText writes a p-value as people do: never as 0.
func PText(p float64) string {
	switch {
	case math.IsNaN(p):
		return "undefined"
	case p < 0.0001:
		return "< 0.0001"
	case p < 0.001:
		return fmt.Sprintf("%.4f", p)
	}
	return fmt.Sprintf("%.3f", p)
}

func compareBy(p Procedure, groups []Group, o Options) (Comparisons, error) {
	switch {
	case p == OneVariance && o.Control != "":
		return dunnett(groups, o.Control, o.Level)
	case p == OneVariance:
		return tukeyKramer(groups, o.Level)
	case p == OwnVariances && o.Control != "":
		return welchToControl(groups, o.Control, o.Level)
	case p == OwnVariances:
		return gamesHowell(groups, o.Level)
	case p == ByRanks && o.Control != "":
		return RanksToControl(groups, o.Control, o.Level)
	case p == ByRanks:
		return RankPairs(groups, o.Level)
	}
	return Comparisons{}, fmt.Errorf("there is no procedure called %q; there are %q, %q and %q", p, OneVariance, OwnVariances, ByRanks)
}

// fewForRanks says so where the groups hold too few values for ranks to show any difference.
func (r *Result) fewForRanks(groups []Group) {
	size := map[string]int{}
	for _, g := range groups {
		size[g.Name] = len(g.Values)
	}
	least := math.Inf(1) // of the adjusted p
	for _, c := range r.Comparisons.All {
		least = min(least, 2*math.Exp(-logChoose(size[c.A]+size[c.B], size[c.A]))*float64(len(r.Comparisons.All)))
	}
	if least > 1-r.Level {
		r.Steps = append(r.Steps, fmt.Sprintf("with so few values per group, ranks cannot show any difference: the smallest possible adjusted p is %s", PText(min(1, least))))
	}
}

// overall is the test of all groups together that belongs to the procedure.
func (r *Result) overall() Overall {
	c, nan := r.on(), math.NaN()
	switch {
	case r.Procedure == OneVariance && c.ANOVA != nil:
		return Overall{"analysis of variance", c.ANOVA.F, float64(c.ANOVA.DFBetween), float64(c.ANOVA.DFWithin), c.ANOVA.P}
	case r.Procedure == OwnVariances && c.Welch != nil:
		return Overall{"Welch’s analysis of variance", c.Welch.F, c.Welch.DF1, c.Welch.DF2, c.Welch.P}
	case r.Procedure == ByRanks && c.KruskalWallis != nil:
		return Overall{"Kruskal-Wallis", c.KruskalWallis.Statistic, c.KruskalWallis.DF, nan, c.KruskalWallis.P}
	}
	return Overall{"none", nan, nan, nan, nan}
}

// effects reads the comparisons as ratios and differences. Differences have a ratio too where the mean below the line is surely above 0:
// Fieller's, held against the same critical value.
func effects(r Result, groups []Group, offset float64) []Effect {
	nan := math.NaN()
	ms := sharedMoments(groups)
	at := func(name string) moments {
		return ms[slices.IndexFunc(groups, func(g Group) bool { return g.Name == name })]
	}
	var all []Effect
	for _, c := range r.Comparisons.All {
		a, b := at(c.A), at(c.B)
		e := Effect{c.A, c.B, nan, nan, nan, nan, nan, nan, c.P, c.PAdj, c.detectable(DetectablePower)}
		if r.Scale == LogScale {
			e.Ratio, e.RatioLower, e.RatioUpper = math.Exp(c.Estimate), math.Exp(c.Lower), math.Exp(c.Upper)
			e.Difference, e.Detectable = a.shift-b.shift, math.Exp(e.Detectable)
		} else {
			e.Difference, e.DifferenceLower, e.DifferenceUpper = c.Estimate, c.Lower, c.Upper
			va, vb := a.variance()/a.n, b.variance()/b.n
			if r.Procedure == OneVariance {
				va, vb = r.Raw.ANOVA.MSWithin/a.n, r.Raw.ANOVA.MSWithin/b.n
			}
			if mean := b.mean() + offset; mean > 0 && !math.IsNaN(c.SE) {
				q := fiellerRatio(a.mean()+offset, va, mean, vb, (c.Upper-c.Estimate)/c.SE)
				e.Ratio, e.RatioLower, e.RatioUpper = q.Ratio, q.Lower, q.Upper
			}
		}
		all = append(all, e)
	}
	return all
}
