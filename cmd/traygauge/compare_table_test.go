package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// compareJSON runs the command as a person would and reads what it prints.
func compareJSON(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append([]string{"compare", "--json"}, args...), streams{strings.NewReader(""), &out, &errs}); code != exitOK {
		t.Fatalf("%v: exit %d, %s", args, code, errs.String())
	}
	var got map[string]any
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v, of %s", err, out.String())
	}
	return got
}

func refJSON(t *testing.T, name string) (want map[string]any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../testdata/refs", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	return want
}

// at follows a path of names and numbers through what JSON holds.
func at(t *testing.T, v any, path ...any) any {
	t.Helper()
	for i, p := range path {
		switch p := p.(type) {
		case string:
			m, ok := v.(map[string]any)
			if _, there := m[p]; !ok || !there {
				t.Fatalf("there is no %v", path[:i+1])
			}
			v = m[p]
		case int:
			s, ok := v.([]any)
			if !ok || p >= len(s) {
				t.Fatalf("there is no %v", path[:i+1])
			}
			v = s[p]
		}
	}
	return v
}

// sameNumbers compares one object's figures with another's, given as "theirs ours", within a relative tolerance.
func sameNumbers(t *testing.T, what string, got, want any, tolerance float64, names ...string) {
	t.Helper()
	for _, name := range names {
		theirs, ours, two := strings.Cut(name, " ")
		if !two {
			ours = theirs
		}
		g, w := at(t, got, ours), at(t, want, theirs)
		if fmt.Sprint(g) == fmt.Sprint(w) {
			continue
		}
		gf, ok1 := g.(float64)
		wf, ok2 := w.(float64)
		if !ok1 || !ok2 || math.Abs(gf-wf) > max(1e-12, tolerance*math.Abs(wf)) {
			t.Errorf("%s %s: %v, want %v", what, ours, g, w)
		}
	}
}

var anovaNames = []string{"df_between", "df_within", "ss_between", "ss_within", "ms_between", "ms_within", "F f", "p", "s_pooled sd_pooled", "eta_squared", "omega_squared"}

// The command's JSON on open data against R 4.2.2 (testdata/refs/README.md), to the digits given there.
func TestCompareTableAgreesWithR(t *testing.T) {
	for name, control := range map[string]string{"plantgrowth": "ctrl", "insectsprays": "C", "dunnett1955": "control", "chickweight_day21": "diet1", "chickweight_rgr": "diet1"} {
		t.Run(name, func(t *testing.T) {
			want := refJSON(t, "oneway/"+name+"_results.json")
			got := compareJSON(t, "--table", "../../testdata/refs/oneway/"+name+".csv", "--value", "value", "--by", "group", "--control", control)
			for i, w := range want["groups"].([]any) {
				sameNumbers(t, "groups", at(t, got, "groups", i), w, 1e-11, "group", "n", "mean", "sd", "cv_pct", "se", "ci95_lower lower", "ci95_upper upper", "median", "min", "max")
			}
			raw := at(t, got, "raw")
			sameNumbers(t, "anova", at(t, raw, "anova"), want["anova"], 1e-9, anovaNames...)
			sameNumbers(t, "welch", at(t, raw, "welch_anova"), want["welch_anova"], 1e-9, "F f", "df1", "df2", "p")
			sameNumbers(t, "levene", at(t, raw, "levene_mean"), want["levene_mean"], 1e-9, "F f", "df1", "df2", "p")
			sameNumbers(t, "brown-forsythe", at(t, raw, "brown_forsythe_median"), want["brown_forsythe_median"], 1e-9, "F f", "df1", "df2", "p")
			sameNumbers(t, "bartlett", at(t, raw, "bartlett"), want["bartlett"], 1e-9, "statistic", "df", "p")
			sameNumbers(t, "kruskal", at(t, raw, "kruskal_wallis"), want["kruskal_wallis"], 1e-9, "statistic", "df", "p")
			sameNumbers(t, "shapiro", at(t, raw, "shapiro_residuals"), want["shapiro_residuals"], 1e-9, "W w", "p")
			every := at(t, got, "every_procedure", "raw")
			for i, w := range at(t, want, "dunnett", "comparisons").([]any) {
				sameNumbers(t, "dunnett", at(t, every, "dunnett", "comparisons", i), w, 1e-8, "group a", "estimate", "se", "t", "p_unadjusted p", "p_adj", "lower", "upper")
			}
			for i, w := range want["pairwise_t_pooled"].([]any) {
				sameNumbers(t, "pairs", at(t, every, "pairwise_t_pooled", i), w, 1e-8, "a", "b", "p_raw p", "p_holm", "p_bonferroni", "p_bh")
			}
			if _, none := at(t, want, "log_scale").(map[string]any)["undefined"]; none {
				if at(t, got, "every_procedure", "log") != nil || at(t, got, "log", "anova") != nil || at(t, got, "scale") != "raw" {
					t.Error("zeros are compared on the log scale")
				}
				return
			}
			sameNumbers(t, "log anova", at(t, got, "log", "anova"), at(t, want, "log_scale", "anova"), 1e-9, anovaNames...)
			if at(t, got, "scale") == "log" && at(t, got, "comparisons", "method") == "Dunnett" {
				for i, w := range at(t, want, "log_scale", "dunnett_ratio").([]any) {
					sameNumbers(t, "ratio", at(t, got, "effects", i), w, 1e-8, "group a", "ratio", "lower ratio_lower", "upper ratio_upper", "p_adj")
				}
			}
		})
	}
}

// Trays with plugs, through the command.
func TestCompareTableOfUnitsAgreesWithR(t *testing.T) {
	for _, name := range []string{"balanced", "unbalanced", "negative_component"} {
		want := refJSON(t, "nested/"+name+"_results.json")
		got := compareJSON(t, "--table", "../../testdata/refs/nested/"+name+".csv", "--value", "value", "--by", "treatment", "--control", "control", "--unit", "tray")
		nested := at(t, got, "nested")
		sameNumbers(t, name, nested, want["anova_table"], 1e-9, "ss_treatment ss_group", "ss_tray ss_unit", "ss_plug ss_within", "df_tray df_unit", "coef_tray_in_ms_tray coef_unit", "coef_tray_in_ms_treatment coef_group")
		sameNumbers(t, name, at(t, nested, "variance_components"), want["variance_components_moments"], 1e-9, "plug within", "tray_raw unit_raw", "tray unit", "intraclass_correlation icc")
		sameNumbers(t, name, at(t, nested, "group_test"), want["treatment_test"], 1e-9, "F_over_ms_tray f", "df1", "df2", "p")
		sameNumbers(t, name, at(t, nested, "synthesised_test"), want["treatment_test"], 1e-9, "F_synthesised f", "df2_satterthwaite df2", "p_synthesised p")
		sameNumbers(t, name, at(t, got, "raw", "anova"), at(t, want, "tray_means", "anova"), 1e-9, anovaNames...)
		for i, w := range at(t, want, "log_tray_means", "dunnett_ratio").([]any) {
			sameNumbers(t, name, at(t, got, "effects", i), w, 1e-8, "group a", "ratio", "lower ratio_lower", "upper ratio_upper", "p_adj")
		}
		if negative := at(t, nested, "variance_components", "negative"); negative != (name == "negative_component") {
			t.Errorf("%s: negative %v", name, negative)
		}
		if told := strings.Contains(fmt.Sprint(got["notes"]), "estimated variance between units"); told != (name == "negative_component") {
			t.Errorf("%s: notes %v", name, got["notes"])
		}
	}
	got := compareJSON(t, "--table", "../../testdata/refs/nested/single_tray.csv", "--value", "value", "--by", "treatment", "--control", "control", "--unit", "tray")
	if got["possible"] != false || got["why"] == "" || got["effects"] != nil || at(t, got, "nested", "group_test", "p") != nil || len(got["between_units"].([]any)) != 2 {
		t.Errorf("one tray per treatment: %v", got)
	}
}

// The interaction of a 2 × 2 on tray means, raw and log, through the command.
func TestCompareTableShowsAnInteraction(t *testing.T) {
	want := refJSON(t, "nested/factorial_results.json")
	got := compareJSON(t, "--table", "../../testdata/refs/nested/factorial.csv", "--value", "value", "--by", "treatment", "--unit", "tray",
		"--interaction", "base,additive,product,product_additive")
	for theirs, ours := range map[string]string{"additive_scale": "raw", "log_scale": "log"} {
		for _, w := range want[theirs].([]any) {
			if at(t, w, "contrast") == "interaction" {
				sameNumbers(t, ours, at(t, got, "interaction", ours), w, 1e-9, "estimate", "se", "df", "t", "p", "lower", "upper")
			}
		}
	}
}

// NIST's certified F of data with 13 leading digits in common: the command reads the decimals exactly.
func TestCompareTableKeepsTheDigitsThatDiffer(t *testing.T) {
	certified := refJSON(t, "nist_anova/certified.json")
	for _, name := range []string{"SiRstv", "SmLs01", "AtmWtAg", "SmLs04", "SmLs07", "SmLs08"} {
		text, err := os.ReadFile("../../testdata/refs/nist_anova/" + name + ".dat")
		if err != nil {
			t.Fatal(err)
		}
		var data bytes.Buffer
		w := csv.NewWriter(&data)
		w.Write([]string{"group", "value"})
		for i, line := range strings.Split(string(text), "\n") {
			if f := strings.Fields(line); i >= 60 && len(f) == 2 {
				w.Write(f)
			}
		}
		w.Flush()
		path := filepath.Join(t.TempDir(), name+".csv")
		if err := os.WriteFile(path, data.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		got := compareJSON(t, "--table", path, "--value", "value", "--by", "group")
		sameNumbers(t, name, at(t, got, "raw", "anova"), certified[name], 1e-12, "F f", "ss_between", "ss_within", "r_squared eta_squared", "residual_sd sd_pooled")
	}
}
