package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/compare"
)

// comparedTrial has one tray of water only, of 10 and 30 mm², and one of base feed, of 40 and 50 mm².
func comparedTrial(t *testing.T) string {
	t.Helper()
	return trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50))
}

func TestCompareTrial(t *testing.T) {
	code, out, errs := call("compare", comparedTrial(t))
	if code != exitOK {
		t.Fatalf("exit %d: %s", code, errs)
	}
	for _, words := range []string{
		"Kale, spring: day 10 (2026-03-12)",
		"base feed against water only",
		"one tray a treatment, so nothing can be claimed of a treatment", // first of all
		"between these trays, not between treatments",
		"× 2.25", // 45 against 20
		"these trays only",
		"nothing here is a claim about a treatment",
	} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), words) {
			t.Errorf("%q is not in\n%s", words, out)
		}
	}
	if strings.Contains(out, "NaN") || strings.Contains(out, "Inf") {
		t.Errorf("not for people:\n%s", out)
	}
}

func TestCompareTrialJSON(t *testing.T) {
	code, out, errs := call("compare", comparedTrial(t), "--json", "--day", "10")
	var r compare.Result
	if err := json.Unmarshal([]byte(out), &r); err != nil || code != exitOK {
		t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	c := r.Comparisons[0]
	if c.Quantity != compare.RootArea || c.Estimate != 2.25 || c.P.Known() || c.Verdict != compare.TheseTrays {
		t.Errorf("%+v", c)
	}
	for _, key := range []string{`"p_adjusted": null`, `"explained_by_tray_variation": `, `"measurement_share_pct": null`} {
		if !strings.Contains(out, key) {
			t.Errorf("%s is not in\n%s", key, out)
		}
	}
}

func TestCompareTrialRefuses(t *testing.T) {
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitFailed, []string{"compare", comparedTrial(t), "--day", "11"}, "no usable photo is from day 11: there are photos from day 10"},
		{exitFailed, []string{"compare", trialFolder(t)}, "traygauge measure"},
		{exitFailed, []string{"compare", t.TempDir()}, "trial.yaml"},
	} {
		if code, out, errs := call(c.args...); code != c.want || out != "" || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit %d, want %d: %s%s", c.args, code, c.want, out, errs)
		}
	}
}

// The report holds the comparisons as a table whose columns are named, and sums them up.
func TestReportCompares(t *testing.T) {
	dir := comparedTrial(t)
	code, out, errs := call("report", dir)
	if code != exitOK || !strings.Contains(out, "Day 10, compared") {
		t.Errorf("exit %d: %s\n%s", code, errs, out)
	}
	f, err := os.Open(filepath.Join(dir, "report", "comparisons.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	first := map[string]string{}
	for i, name := range rows[0] {
		first[name] = rows[1][i]
	}
	for name, want := range map[string]string{"day": "10", "quantity": "root area", "treatment": "base feed", "control": "water only", "ratio": "2.2500", "difference": "",
		"p_adjusted": "", "compared_by": "these trays only", "treatment_trays": "7", "treatment_plugs": "2", "variation_unit": "% CV"} {
		if first[name] != want {
			t.Errorf("%s is %q, want %q", name, first[name], want)
		}
	}
}
