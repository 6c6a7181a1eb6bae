package stats

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"traygauge/measure/stats/published"
)

// What the rule chooses on data whose Shapiro-Wilk and Brown-Forsythe p-values are in testdata/refs or are plain from how the data were made.
func TestTheRuleChooses(t *testing.T) {
	skewed := func(n int, seed uint64, power float64) (values []float64) {
		r := rand.New(rand.NewPCG(seed, 1))
		for range n {
			values = append(values, math.Exp(power*r.ExpFloat64()*r.ExpFloat64()))
		}
		return values
	}
	normal := func(n int, seed uint64, mean, sd float64) (values []float64) {
		r := rand.New(rand.NewPCG(seed, 1))
		for range n {
			values = append(values, mean+sd*r.NormFloat64())
		}
		return values
	}
	refs := func(name string) []Group { return readGroups(t, "oneway/"+name+".csv") }
	for _, c := range []struct {
		what    string
		groups  []Group
		control string
		scale   Scale
		method  string
	}{
		{"plant weights against a control", refs("plantgrowth"), "ctrl", LogScale, dunnettMethod},
		{"plant weights in pairs", refs("plantgrowth"), "", LogScale, tukeyMethod},
		{"counts with zeros, Brown-Forsythe p 0.004", refs("insectsprays"), "C", RawScale, welchManyMethod},
		{"the same in pairs", refs("insectsprays"), "", RawScale, gamesHowellMethod},
		{"long tails on both scales", []Group{{"a", skewed(40, 1, 1)}, {"b", skewed(40, 2, 1)}}, "a", LogScale, rankManyMethod},
		{"long tails and below 0", []Group{{"a", append(skewed(40, 1, 2), -1)}, {"b", skewed(40, 2, 2)}}, "", RawScale, rankManyMethod},
		{"normal, near 0: logarithms make long tails of them", []Group{{"a", normal(60, 1, 10, 3)}, {"b", normal(60, 3, 10, 3)}}, "a", RawScale, dunnettMethod},
		{"one value in a group", []Group{{"a", []float64{1, 1.1, 1.3}}, {"b", []float64{2}}}, "a", LogScale, dunnettMethod},
	} {
		r, err := Compare(c.groups, Options{Control: c.control})
		if err != nil || !r.Possible {
			t.Errorf("%s: %v, %q", c.what, err, r.Why)
			continue
		}
		if r.Scale != c.scale || c.method != "" && r.Comparisons.Method != c.method {
			t.Errorf("%s: %s on the %s scale, want %s on the %s scale; %s", c.what, r.Comparisons.Method, r.Scale, c.method, c.scale, strings.Join(r.Steps, "; "))
		}
		if len(r.Steps) == 0 || r.Overall.Test == "none" || math.IsNaN(r.Overall.P) {
			t.Errorf("%s: steps %q, overall %+v", c.what, r.Steps, r.Overall)
		}
	}
}

func TestWhatIsAskedForOverrulesTheRule(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	for procedure, method := range map[Procedure]string{OneVariance: dunnettMethod, OwnVariances: welchManyMethod, ByRanks: rankManyMethod} {
		for _, scale := range []Scale{RawScale, LogScale} {
			r, err := Compare(groups, Options{Control: "ctrl", Scale: scale, Procedure: procedure})
			if err != nil || r.Comparisons.Method != method || r.Scale != scale {
				t.Errorf("%s on %s: %s on %s, %v", procedure, scale, r.Comparisons.Method, r.Scale, err)
			}
		}
	}
	if _, err := Compare(groups, Options{Procedure: "guessing"}); err == nil {
		t.Error("an unknown procedure is taken")
	}
	if _, err := Compare(readGroups(t, "oneway/insectsprays.csv"), Options{Scale: LogScale}); err == nil {
		t.Error("zeros have logarithms")
	}
}

// Effects are the comparisons in other words: ratios of the log scale; differences, with Fieller's ratio held against the same critical value.
func TestEffectsSayWhatComparisonsSay(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	r, err := Compare(groups, Options{Control: "ctrl"})
	if err != nil {
		t.Fatal(err)
	}
	for i, ratio := range r.Comparisons.ratios() {
		e := r.Effects[i]
		if e.Ratio != ratio.Ratio || e.RatioLower != ratio.Lower || e.RatioUpper != ratio.Upper || e.PAdj != ratio.PAdj || !math.IsNaN(e.DifferenceLower) {
			t.Errorf("%+v, want %+v", e, ratio)
		}
	}
	r, err = Compare(groups, Options{Control: "ctrl", Scale: RawScale})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range r.Comparisons.All {
		e := r.Effects[i]
		if e.Difference != c.Estimate || e.DifferenceLower != c.Lower || e.DifferenceUpper != c.Upper {
			t.Errorf("%+v, want %+v", e, c)
		}
		// Fieller's ends solve |a − r·b| = d·√(va + r²·vb).
		a, b, v := describe(groups[i+1], 0.95), describe(groups[0], 0.95), r.Raw.ANOVA.MSWithin/10
		for _, end := range []float64{e.RatioLower, e.RatioUpper} {
			published.Near(t, "Fieller", math.Abs(a.Mean-end*b.Mean)/math.Sqrt(v+end*end*v), (c.Upper-c.Estimate)/c.SE, 0, 1e-9)
		}
	}
}

// Two groups: Welch's t test against the control is what R's pairwise Welch p is, and the interval touches 0 where p is 5 %.
func TestWelchToControlOfOneGroupIsWelchsT(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	c, err := welchToControl([]Group{groups[0], groups[2]}, "ctrl", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "p", c.All[0].P, 0.0478992556019693, 0, 1e-10) // pairwise.t.test(pool.sd=FALSE) of R: testdata/refs/oneway
	published.Near(t, "adjusted p", c.All[0].PAdj, 0.0478992556019693, 0, 1e-10)
	if !(c.All[0].Lower > 0) {
		t.Errorf("lower end %v, p below 5 %%", c.All[0].Lower)
	}
}

// With equal variances in the sample, own variances have Dunnett's correlations; with many values his p, too.
func TestWelchToControlMeetsDunnett(t *testing.T) {
	base := make([]float64, 400)
	for i := range base {
		base[i] = float64(i%20) / 10
	}
	moved := func(name string, by float64) Group {
		g := Group{Name: name}
		for _, v := range base {
			g.Values = append(g.Values, v+by)
		}
		return g
	}
	groups := []Group{moved("c", 0), moved("a", 0.05), moved("b", 0.09)}
	w, err := welchToControl(groups, "c", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	d, err := dunnett(groups, "c", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for i := range d.All {
		published.Near(t, "adjusted p", w.All[i].PAdj, d.All[i].PAdj, 0, 0.005) // 798 degrees of freedom a pair instead of 1197
		published.Near(t, "lower", w.All[i].Lower, d.All[i].Lower, 0.0005, 0)
	}
}

// Geometric means and their intervals of R.
func TestLogSummariesAgreeWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		for i, want := range r.Log.Groups {
			logs, err := logarithms(groups)
			if err != nil {
				t.Fatal(err)
			}
			got := DescribeLog(logs[i], 0.95, 0)
			for what, v := range map[string][2]float64{
				"mean": {got.MeanLog, want.MeanLog}, "SD": {got.SDLog, want.SDLog}, "geometric mean": {got.GeometricMean, want.GeometricMean},
				"CV": {got.CVPct, want.CVPct}, "lower": {got.Lower, want.Lower}, "upper": {got.Upper, want.Upper},
			} {
				published.Near(t, want.Group+" "+what, v[0], v[1], absR, relR)
			}
		}
	})
}

// Taking the same number off every value changes no comparison.
func TestOffsetChangesNothing(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	moved := make([]Group, len(groups))
	for i, g := range groups {
		moved[i].Name = g.Name
		for _, v := range g.Values {
			moved[i].Values = append(moved[i].Values, v-4)
		}
	}
	for _, scale := range []Scale{RawScale, LogScale} {
		a, err := Compare(groups, Options{Control: "ctrl", Scale: scale})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Compare(moved, Options{Control: "ctrl", Scale: scale, Offset: 4})
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range a.Effects {
			published.Near(t, "ratio", b.Effects[i].Ratio, e.Ratio, 0, 1e-12)
			published.Near(t, "ratio lower", b.Effects[i].RatioLower, e.RatioLower, 0, 1e-10)
			published.Near(t, "p", b.Effects[i].PAdj, e.PAdj, 0, 1e-9)
			published.Near(t, "mean", b.Groups[i].Mean, a.Groups[i].Mean, 0, 1e-12)
			published.Near(t, "CV", b.Groups[i].CVPct, a.Groups[i].CVPct, 0, 1e-12)
		}
	}
}

func TestUnitsAreComparedByTheirMeans(t *testing.T) {
	var refs nestedRefs
	published.ReadJSON(t, "nested/unbalanced_results.json", &refs)
	r, err := CompareUnits(readUnits(t, "nested/unbalanced.csv"), Options{Control: "control"})
	if err != nil || !r.Possible || r.Scale != LogScale || r.Comparisons.Method != dunnettMethod {
		t.Fatalf("%+v, %v", r.Result, err)
	}
	for i, w := range refs.LogMeans.Ratio { // ln of each tray's mean, then Dunnett, by R
		published.Near(t, w.Group, r.Effects[i].Ratio, w.Ratio, 0, relR)
		published.Near(t, w.Group+" adjusted p", r.Effects[i].PAdj, w.PAdj, 1e-10, 0)
	}
	published.Near(t, "variance between units", r.Nested.Components.Unit, refs.Components.Tray, 0, 1e-10)
	if len(r.Units) != 12 || r.Between != nil {
		t.Errorf("%d units, between %v", len(r.Units), r.Between)
	}
}

// One tray per treatment: no comparison of treatments; between the trays Welch's t, and what would explain the difference away does so.
func TestSingleUnitsAreComparedAsSuch(t *testing.T) {
	units := readUnits(t, "nested/single_tray.csv")
	r, err := CompareUnits(units, Options{Control: "control"})
	if err != nil || r.Possible || r.Why == "" || r.Effects != nil || len(r.Between) != 2 {
		t.Fatalf("%+v, %v", r, err)
	}
	p := r.Between[1]
	if p.A != "extract_high" || p.B != "control" {
		t.Fatalf("%+v", p)
	}
	published.Near(t, "difference", p.Difference, 129.575-108.33, 1e-9, 0) // the means that R gives in testdata/refs/nested
	// se² = 19.0730843193896²/12 + 18.4244844506631²/12 from R's SDs; 1.959964 is the normal 97.5 % point
	se2 := (19.0730843193896*19.0730843193896 + 18.4244844506631*18.4244844506631) / 12
	published.Near(t, "explained", 1.959963984540054*math.Sqrt(2*p.ExplainSD*p.ExplainSD+se2), p.Difference, 0, 1e-9)
	if low := r.Between[0]; low.ExplainSD != 0 || !(low.Lower < 0 && low.Upper > 0) {
		t.Errorf("%+v: the plugs' own scatter explains it", low)
	}
	r, _ = CompareUnits(units, Options{})
	if len(r.Between) != 3 {
		t.Errorf("%d pairs of three trays", len(r.Between))
	}
}

// Data that allow no test give an answer that says so; impossible data are refused with words.
func TestDegenerateData(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for what, groups := range map[string][]Group{
		"nothing":           nil,
		"one group":         {{"a", []float64{1, 2}}},
		"an empty group":    {{"a", []float64{1, 2}}, {"b", nil}},
		"all empty":         {{"a", nil}, {"b", nil}},
		"NaN":               {{"a", []float64{1, nan}}, {"b", []float64{1, 2}}},
		"Inf":               {{"a", []float64{1, inf}}, {"b", []float64{1, 2}}},
		"one name for two":  {{"a", []float64{1, 2}}, {"a", []float64{1, 2}}},
		"control not there": {{"b", []float64{1, 2}}, {"d", []float64{1, 2}}},
	} {
		if r, err := Compare(groups, Options{Control: "a"}); err == nil || err.Error() == "" {
			t.Errorf("%s: %+v", what, r)
		}
	}
	for what, c := range map[string]struct {
		groups []Group
		why    error
	}{
		"one value each":           {[]Group{{"a", []float64{1}}, {"b", []float64{2}}}, errNoReplicates},
		"no variation":             {[]Group{{"a", []float64{1, 1}}, {"b", []float64{2, 2, 2}}}, errNoVariation},
		"all zero":                 {[]Group{{"a", []float64{0, 0}}, {"b", []float64{0, 0}}}, errNoVariation},
		"rounding is no variation": {[]Group{{"a", []float64{0.3, 0.1 + 0.2}}, {"b", []float64{0.5, 0.5}}}, errNoVariation},
	} {
		r, err := Compare(c.groups, Options{Control: "a"})
		if err != nil || r.Possible || r.Why != c.why.Error() || len(r.Effects) > 0 || len(r.Groups) != 2 {
			t.Errorf("%s: %+v, %v", what, r, err)
		}
	}
	for what, groups := range map[string][]Group{
		"one group does not vary": {{"a", []float64{1, 1, 1, 1}}, {"b", []float64{2, 3, 4, 9}}, {"c", []float64{2, 3, 5, 4}}},
		"ties":                    {{"a", []float64{0, 0, 0, 1}}, {"b", []float64{0, 0, 1, 1}}},
		"groups of two":           {{"a", []float64{1, 2}}, {"b", []float64{3, 5}}, {"c", []float64{3, 4}}},
		"huge and tiny":           {{"a", []float64{1e200, 2e200}}, {"b", []float64{1e-200, 3e-200}}},
		"zeros in the control":    {{"a", []float64{0, 0, 0}}, {"b", []float64{2, 3, 4}}},
		"a difference of nothing": {{"a", []float64{1, 2, 3}}, {"b", []float64{3, 2, 1}}},
		"negative values":         {{"a", []float64{-1, -2, -3}}, {"b", []float64{3, 2, 1}}},
	} {
		for _, control := range []string{"a", ""} {
			r, err := Compare(groups, Options{Control: control})
			if err != nil || !r.Possible {
				t.Errorf("%s: %+v, %v", what, r, err)
				continue
			}
			for _, e := range r.Effects {
				if !(e.PAdj >= 0 && e.PAdj <= 1) || !(e.P <= e.PAdj+1e-12) {
					t.Errorf("%s: %+v", what, e)
				}
			}
		}
	}
}

func TestTwoHundredGroups(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 0))
	var groups []Group
	for i := range 200 {
		g := Group{Name: fmt.Sprint(i)}
		for range 4 {
			g.Values = append(g.Values, math.Exp(0.2*r.NormFloat64()))
		}
		groups = append(groups, g)
	}
	for i := range groups[7].Values {
		groups[7].Values[i] *= 4
	}
	c, err := Compare(groups, Options{Control: "0"})
	if err != nil || len(c.Effects) != 199 {
		t.Fatalf("%d comparisons, %v", len(c.Effects), err)
	}
	for _, e := range c.Effects {
		if (e.A == "7") != (e.PAdj < 0.05) {
			t.Errorf("%+v; only group 7 differs", e)
		}
	}
	if c, err = Compare(groups, Options{Procedure: OneVariance}); err != nil || len(c.Effects) != 199*200/2 {
		t.Fatalf("%d pairs, %v", len(c.Effects), err)
	}
}

// With so few values no ranks can show anything, and that is said.
func TestFewValuesForRanksAreTold(t *testing.T) {
	groups := []Group{{"a", []float64{1, 2, 3}}, {"b", []float64{4, 5, 6}}}
	r, err := Compare(groups, Options{Procedure: ByRanks})
	if err != nil || !strings.Contains(strings.Join(r.Steps, " "), "ranks cannot show any difference") {
		t.Errorf("%q, %v", r.Steps, err)
	}
	published.Near(t, "p", r.Effects[0].PAdj, 0.1, 0, 1e-12) // 2 of 20 deals
}

// The order of groups and of values changes nothing but the order of the answers; a change of unit changes no ratio and no p.
func FuzzCompare(f *testing.F) {
	f.Add(uint64(1), 3, 4, 0.1, 0.0)
	f.Add(uint64(2), 2, 2, 1e-9, 0.0)
	f.Add(uint64(3), 5, 9, 3.0, -1.0)
	f.Fuzz(func(t *testing.T, seed uint64, k, n int, sd, shift float64) {
		if k < 0 || k > 8 || n < 0 || n > 12 || math.IsNaN(sd) || math.Abs(sd) > 5 || math.IsNaN(shift) || math.Abs(shift) > 1e6 {
			t.Skip()
		}
		r := rand.New(rand.NewPCG(seed, 3))
		var groups, turned []Group
		for i := range k {
			g, back := Group{Name: name(i)}, Group{Name: name(i)}
			for range n {
				g.Values = append(g.Values, math.Exp(sd*r.NormFloat64())+shift)
			}
			for j := range g.Values {
				back.Values = append(back.Values, 8*g.Values[len(g.Values)-1-j]) // a power of 2 rounds nothing
			}
			groups, turned = append(groups, g), append([]Group{back}, turned...)
		}
		a, errA := Compare(groups, Options{Control: "a"})
		b, errB := Compare(turned, Options{Control: "a"})
		if (errA == nil) != (errB == nil) || a.Possible != b.Possible {
			t.Fatalf("%v %v, possible %v %v (%s, %s)", errA, errB, a.Possible, b.Possible, a.Why, b.Why)
		}
		if errA != nil || !a.Possible {
			return
		}
		if a.Scale != b.Scale || a.Procedure != b.Procedure {
			t.Skip() // a p-value on the very edge of a limit
		}
		coarse := math.Abs(sd) < 1e-5*(1+math.Abs(shift)) // what differs is little more than rounding
		for _, e := range a.Effects {
			for _, other := range b.Effects {
				if !coarse && other.A == e.A && (math.Abs(other.PAdj-e.PAdj) > 1e-6 || math.Abs(other.Ratio-e.Ratio) > 1e-6*math.Abs(e.Ratio)) {
					t.Errorf("%+v, turned %+v", e, other)
				}
			}
			if !(e.PAdj >= 0 && e.PAdj <= 1) {
				t.Errorf("%+v", e)
			}
		}
	})
}

func TestErrorsAreTold(t *testing.T) {
	if _, err := oneWay([]Group{{"a", []float64{1}}, {"b", []float64{2}}}); !errors.Is(err, errNoReplicates) {
		t.Error(err)
	}
	for what, err := range map[string]error{
		"level":     second(dunnett([]Group{{"a", []float64{1, 2}}, {"b", []float64{2, 4}}}, "a", 95)),
		"Welch":     second(welchToControl([]Group{{"a", []float64{1, 1}}, {"b", []float64{2, 4}}}, "a", 0.95)),
		"one value": second(gamesHowell([]Group{{"a", []float64{1}}, {"b", []float64{2, 4}}}, 0.95)),
		"levene":    second(Levene([]Group{{"a", []float64{1, 2}}, {"b", []float64{2, 4}}}, BrownForsythe)),
		"shapiro":   second(ShapiroWilk([]float64{1, 2})),
		"flat":      second(ShapiroWilk([]float64{2, 2, 2, 2})),
		"kruskal":   second(kruskalWallis([]Group{{"a", []float64{1, 1}}, {"b", []float64{1, 1}}})),
		"fieller":   second(Fieller(0, []Group{{"a", []float64{1, 2}}, {"b", []float64{2, 4}}}, "c", 0.95)),
		"between":   second(betweenUnits(Unit{"a", "1", []float64{1}}, Unit{"b", "2", []float64{1, 2}}, 0.95, 0)),
	} {
		if err == nil || err.Error() == "" {
			t.Errorf("%s: no error", what)
		}
	}
}

func second[T any](_ T, err error) error { return err }
