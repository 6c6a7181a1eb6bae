package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/report/terminal"
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
		"Root area, day 10: one tray per treatment, so no conclusion about treatments is possible.", // first of all
		"base feed against water only: these trays only, 2.25 times",
		"too wide",
		"× 2.25", // 45 against 20
		"Every treatment has only one tray",
		"--all shows all quantities",
	} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), words) {
			t.Errorf("%q is not in\n%s", words, out)
		}
	}
	if lines := strings.Count(out, "\n"); lines > 20 {
		t.Errorf("%d lines for one comparison:\n%s", lines, out)
	}
	_, all, _ := call("compare", comparedTrial(t), "--all")
	for _, words := range []string{"base feed against water only", "for these trays, not for the treatments", "Growth and colour", "no result here is about a treatment"} {
		if !strings.Contains(strings.Join(strings.Fields(all), " "), words) {
			t.Errorf("%q is not in\n%s", words, all)
		}
	}
	if strings.Contains(out+all, "NaN") || strings.Contains(out+all, "Inf") {
		t.Errorf("not for people:\n%s%s", out, all)
	}
}

func TestCompareTrialJSON(t *testing.T) {
	code, out, errs := call("compare", comparedTrial(t), "--json", "--day", "10")
	var r terminal.Compared
	if err := json.Unmarshal([]byte(out), &r); err != nil || code != exitOK {
		t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	c := r.Comparisons[0]
	if c["quantity"] != outcome.RootArea || c["ratio"] != 2.25 || c["p_adjusted"] != nil || c["verdict"] != string(outcome.TheseTrays) || r.Answer.Quantity != outcome.RootArea {
		t.Errorf("%+v", c)
	}
	// The names are the columns of comparisons.csv and no others.
	dir := comparedTrial(t)
	call("report", dir)
	text, err := os.ReadFile(filepath.Join(dir, "report", "comparisons.csv"))
	if err != nil {
		t.Fatal(err)
	}
	header, _, _ := strings.Cut(string(text), "\n")
	for _, name := range strings.Split(header, ",") {
		if _, ok := c[name]; !ok {
			t.Errorf("%s is in the CSV and not in the JSON", name)
		}
		delete(c, name)
	}
	if len(c) > 0 {
		t.Errorf("in the JSON alone: %v", c)
	}
}

func TestCompareTrialRefuses(t *testing.T) {
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitFailed, []string{"compare", comparedTrial(t), "--day", "11"}, "day 11 has no usable photo: photos exist for day 10"},
		{exitFailed, []string{"compare", comparedTrial(t), "--day", "-1"}, "day -1 has no usable photo"},
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
	if code != exitOK || !strings.Contains(out, "Root area, day 10: one tray per treatment") {
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
