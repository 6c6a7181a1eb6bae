package stats

import (
	"math"
	"slices"
	"testing"

	"traygauge/measure/stats/published"
)

// nestedRefs is what testdata/refs/nested/NAME_results.json holds: R 4.2.2 (lme4 1.1-31, lmerTest 3.1-3, pbkrtest 0.5.2) on invented data.
type nestedRefs struct {
	Control string
	Table   struct {
		SSGroup   float64 `json:"ss_treatment"`
		DFGroup   int     `json:"df_treatment"`
		MSGroup   float64 `json:"ms_treatment"`
		SSUnit    float64 `json:"ss_tray"`
		DFUnit    int     `json:"df_tray"`
		MSUnit    float64 `json:"ms_tray"`
		SSWithin  float64 `json:"ss_plug"`
		DFWithin  int     `json:"df_plug"`
		MSWithin  float64 `json:"ms_plug"`
		CoefUnit  float64 `json:"coef_tray_in_ms_tray"`
		CoefGroup float64 `json:"coef_tray_in_ms_treatment"`
	} `json:"anova_table"`
	Naive      anovaRef `json:"naive_plug_level_anova_NOT_VALID"`
	Components struct {
		Plug float64
		Raw  float64 `json:"tray_raw"`
		Tray float64
		ICC  float64 `json:"intraclass_correlation"`
	} `json:"variance_components_moments"`
	UnitTest FTest `json:"tray_test"`
	Test     struct {
		Possible, Exact bool
		F               float64 `json:"F_over_ms_tray"`
		DF1, DF2, P     float64
		Denominator     float64 `json:"synthesised_denominator"`
		FS              float64 `json:"F_synthesised"`
		DFS             float64 `json:"df2_satterthwaite"`
		PS              float64 `json:"p_synthesised"`
	} `json:"treatment_test"`
	Means struct {
		Anova   anovaRef
		Welch   FTest `json:"welch_anova"`
		Dunnett dunnettRef
	} `json:"tray_means"`
	LogMeans struct {
		Anova   anovaRef
		Dunnett dunnettRef
		Ratio   []ratioRef `json:"dunnett_ratio"`
	} `json:"log_tray_means"`
	Mixed struct {
		Plug float64 `json:"var_plug"`
		Tray float64 `json:"var_tray"`
		KR   FTest   `json:"kenward_roger"`
	} `json:"mixed_model_reml"`
}

// readUnits reads a table of treatment,tray,plug,value.
func readUnits(t *testing.T, name string) (units []Unit) {
	for _, row := range published.ReadCSV(t, name) {
		i := slices.IndexFunc(units, func(u Unit) bool { return u.Group == row["treatment"] && u.Name == row["tray"] })
		if i < 0 {
			i, units = len(units), append(units, Unit{Group: row["treatment"], Name: row["tray"]})
		}
		units[i].Values = append(units[i].Values, published.Number(t, row["value"]))
	}
	return units
}

func TestNestedAgreesWithR(t *testing.T) {
	for _, name := range []string{"balanced", "unbalanced", "negative_component"} {
		t.Run(name, func(t *testing.T) {
			var r nestedRefs
			published.ReadJSON(t, "nested/"+name+"_results.json", &r)
			units := readUnits(t, "nested/"+name+".csv")
			n, err := nested(units)
			if err != nil {
				t.Fatal(err)
			}
			if n.DFGroup != r.Table.DFGroup || n.DFUnit != r.Table.DFUnit || n.DFWithin != r.Table.DFWithin || n.Exact != r.Test.Exact || n.Possible != r.Test.Possible {
				t.Errorf("%+v, want %+v", n, r.Table)
			}
			for what, v := range map[string][2]float64{
				"SS of groups": {n.SSGroup, r.Table.SSGroup}, "SS of units": {n.SSUnit, r.Table.SSUnit}, "SS within": {n.SSWithin, r.Table.SSWithin},
				"MS of groups": {n.MSGroup, r.Table.MSGroup}, "MS of units": {n.MSUnit, r.Table.MSUnit}, "MS within": {n.MSWithin, r.Table.MSWithin},
				"c1": {n.CoefUnit, r.Table.CoefUnit}, "c2": {n.CoefGroup, r.Table.CoefGroup},
				"within": {n.Components.Within, r.Components.Plug}, "unit, raw": {n.Components.UnitRaw, r.Components.Raw}, "unit": {n.Components.Unit, r.Components.Tray},
				"ICC": {n.Components.ICC, r.Components.ICC}, "denominator": {n.Denominator, r.Test.Denominator},
			} {
				published.Near(t, what, v[0], v[1], 1e-13, 1e-10)
			}
			if n.Components.Negative != (r.Components.Raw < 0) {
				t.Errorf("negative: %v for %v", n.Components.Negative, r.Components.Raw)
			}
			checkF(t, "units", n.UnitTest, r.UnitTest)
			checkF(t, "groups", n.GroupTest, FTest{r.Test.F, r.Test.DF1, r.Test.DF2, r.Test.P})
			published.Near(t, "synthesised F", n.Synthesised.F, r.Test.FS, 0, relR)
			published.Near(t, "its df", n.Synthesised.DF2, r.Test.DFS, 0, relR)
			published.Near(t, "its p", n.Synthesised.P, r.Test.PS, 0, 1e-9)

			means := UnitMeans(units)
			a, err := oneWay(means)
			if err != nil {
				t.Fatal(err)
			}
			checkANOVA(t, "unit means", a, r.Means.Anova)
			w, err := welchANOVA(means)
			if err != nil {
				t.Fatal(err)
			}
			checkF(t, "unit means, Welch", w, r.Means.Welch)
			checkDunnett(t, means, r.Means.Dunnett)
			logs, err := logarithms(means)
			if err != nil {
				t.Fatal(err)
			}
			ratios := checkDunnett(t, logs, r.LogMeans.Dunnett).ratios()
			for i, w := range r.LogMeans.Ratio {
				published.Near(t, w.Group, ratios[i].Ratio, w.Ratio, 0, relR)
				published.Near(t, w.Group, ratios[i].Lower, w.Lower, 0, 1e-10)
				published.Near(t, w.Group, ratios[i].Upper, w.Upper, 0, 1e-10)
			}
			if r.Test.Exact { // three ways that have to be one: nested F, analysis of unit means, Kenward-Roger (lme4, pbkrtest)
				published.Near(t, "F of unit means", a.F, n.GroupTest.F, 0, 1e-10)
				if !n.Components.Negative {
					published.Near(t, "Kenward-Roger's F", n.GroupTest.F, r.Mixed.KR.F, 0, 1e-6)
					published.Near(t, "REML's unit variance", n.Components.Unit, r.Mixed.Tray, 0, 1e-5)
				}
			}
			// Values taken as replicates would claim much more than the units allow.
			naive, err := oneWay(Values(units))
			if err != nil {
				t.Fatal(err)
			}
			checkANOVA(t, "values as if replicates", naive, r.Naive)
		})
	}
}

// One tray per treatment: no test of treatments exists.
func TestNestedWithOneUnitEach(t *testing.T) {
	var r nestedRefs
	published.ReadJSON(t, "nested/single_tray_results.json", &r)
	n, err := nested(readUnits(t, "nested/single_tray.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if n.Possible || n.Why == "" || r.Test.Possible {
		t.Errorf("possible: %v, because %q", n.Possible, n.Why)
	}
	for what, v := range map[string]float64{"F": n.GroupTest.F, "p": n.GroupTest.P, "synthesised": n.Synthesised.P, "unit": n.Components.Unit, "units": n.UnitTest.P, "MS": n.MSUnit} {
		if !math.IsNaN(v) {
			t.Errorf("%s = %v, want none", what, v)
		}
	}
	published.Near(t, "SS of groups", n.SSGroup, r.Table.SSGroup, 0, 1e-11)
	published.Near(t, "MS within", n.MSWithin, r.Table.MSWithin, 0, 1e-11)
	published.Near(t, "c2", n.CoefGroup, r.Table.CoefGroup, 0, 1e-12)
	if _, err := oneWay(UnitMeans(readUnits(t, "nested/single_tray.csv"))); err != errNoReplicates {
		t.Errorf("one unit a group: %v", err)
	}
}

// Contrasts of lm(y ~ 0 + g) in R on tray means, raw and log.
func TestInteractionOfA2x2AgreesWithR(t *testing.T) {
	type ref struct {
		Contrast                             string
		Weights                              []float64 `json:"weights_base_additive_product_combo"`
		Estimate, SE, DF, T, P, Lower, Upper float64
	}
	var r struct {
		Raw []ref `json:"additive_scale"`
		Log []ref `json:"log_scale"`
	}
	published.ReadJSON(t, "nested/factorial_results.json", &r)
	means := UnitMeans(readUnits(t, "nested/factorial.csv"))
	logs, err := logarithms(means)
	if err != nil {
		t.Fatal(err)
	}
	for i, refs := range [][]ref{r.Raw, r.Log} {
		for _, w := range refs {
			c, err := Contrast([][]Group{means, logs}[i], w.Weights, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			for what, v := range map[string][2]float64{
				"estimate": {c.Estimate, w.Estimate}, "SE": {c.SE, w.SE}, "df": {c.DF, w.DF}, "t": {c.T, w.T}, "lower": {c.Lower, w.Lower}, "upper": {c.Upper, w.Upper},
			} {
				published.Near(t, w.Contrast+" "+what, v[0], v[1], 1e-12, 1e-10)
			}
			published.Near(t, w.Contrast+" p", c.P, w.P, 0, 1e-9)
		}
	}
	for _, weights := range [][]float64{{1, -1}, {1, 1, 1, 1}, {0, 0, 0, 0}, {math.NaN(), 0, 0, 0}} {
		if _, err := Contrast(means, weights, 0.95); err == nil {
			t.Errorf("weights %v are taken", weights)
		}
	}
}

func TestNestedRefusesUnitsThatAreNone(t *testing.T) {
	ok := Unit{"a", "1", []float64{1, 2}}
	for what, units := range map[string][]Unit{
		"nothing": {}, "one group": {ok}, "an empty unit": {ok, {"b", "2", nil}, {"b", "3", []float64{1}}}, "a unit twice": {ok, ok, {"b", "2", []float64{1}}},
		"NaN": {ok, {"b", "2", []float64{math.NaN()}}},
	} {
		if _, err := nested(units); err == nil {
			t.Errorf("%s is taken", what)
		}
	}
}
