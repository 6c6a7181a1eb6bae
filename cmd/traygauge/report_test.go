package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report/terminal"
)

const inventedTrial = `title: Kale, spring
crop: kale
sown: 2026-03-02
zone: Europe/Lisbon
tray: {rows: 1, columns: 2, length_mm: 540, width_mm: 280, pitch_mm: 50, first_plug_mm: [45, 40], plug_bottom_mm: 34}
treatments:
  water only:
    gets: []
  base feed:
    gets:
      - {product: base feed, dose: 2 mL/L, from_day: 7}
    compare_with: water only
trays:
  - {tray: 1, treatment: water only, position: 2}
  - {tray: 7, treatment: base feed, position: 1}
volume_ml_per_tray: 1500
feeding_days: [7, 10]
review_days: [10]
`

// trialFolder makes a trial's folder with the given readings.
func trialFolder(t *testing.T, readings ...reading.Reading) string {
	t.Helper()
	dir := t.TempDir()
	put := func(text []byte, name ...string) {
		path := filepath.Join(append([]string{dir}, name...)...)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put([]byte(inventedTrial), "trial.yaml")
	p, _, err := plan.Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range readings {
		r.Settings = measure.SettingsOf(p, version())
		text, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		put(text, "readings", r.SHA256+".json")
	}
	return dir
}

func inventedReading(digest string, tray int, rootMM2 ...float64) reading.Reading {
	r := reading.Reading{Photo: digest + ".jpg", SHA256: strings.Repeat(digest, 32), Taken: time.Date(2026, 3, 12, 9, 0, 0, 0, time.UTC), TakenFrom: "photo",
		Tray: tray, View: "roots", PxPerMM: 6, TiltDeg: 2, CanopyCoverPct: reading.Missing}
	for i, area := range rootMM2 {
		r.Plugs = append(r.Plugs, reading.Plug{Name: "A" + string(rune('1'+i)), State: reading.Planted, RootAreaMM2: reading.Number(area)})
	}
	return r
}

func call(args ...string) (code int, out, errs string) {
	var stdout, stderr bytes.Buffer
	code = run(args, streams{strings.NewReader(""), &stdout, &stderr})
	return code, stdout.String(), stderr.String()
}

func TestReport(t *testing.T) {
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50))
	code, out, errs := call("report", dir)
	if code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if !strings.HasPrefix(out, "Root area, day 10: one tray per treatment") || strings.Count(out, "\n") > 6 {
		t.Errorf("want the answer and no more:\n%s", out)
	}
	text, err := os.ReadFile(filepath.Join(dir, "report", "plugs.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll(); err != nil || len(rows) != 5 {
		t.Errorf("plugs.csv has %d rows (%v), want a header and 4 plugs", len(rows), err)
	}
	entries, err := os.ReadDir(filepath.Join(dir, "report"))
	if err != nil || len(entries) != 8 {
		t.Errorf("the report's folder holds %v (%v)", entries, err)
	}
}

func TestReportGoesOnAfterABrokenReading(t *testing.T) {
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30))
	if err := os.WriteFile(filepath.Join(dir, "readings", strings.Repeat("bb", 32)+".json"), []byte(`{"photo": "b.`), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, errs := call("report", dir)
	if code != exitAttention || out == "" {
		t.Errorf("exit code %d, summary:\n%s", code, out)
	}
	if !strings.Contains(errs, "bbbb.json") || !strings.Contains(errs, "delete it and run `traygauge measure` again") {
		t.Errorf("messages: %s", errs)
	}
}

func TestReportNamesPhotosWithoutResult(t *testing.T) {
	lost := reading.Reading{Photo: "lost.jpg", SHA256: strings.Repeat("cc", 32), Concerns: []reading.Concern{
		{Kind: "no card", Words: "0 of 4 markers found", Remedy: "lay the card beside the tray", Fatal: true}}}
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), lost)
	code, _, errs := call("report", dir)
	if code != exitAttention || !strings.Contains(errs, "lost.jpg: 0 of 4 markers found: lay the card beside the tray") {
		t.Errorf("exit code %d, messages: %s", code, errs)
	}
	code, out, _ := call("report", "--json", dir)
	var got terminal.Reported
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitAttention {
		t.Fatalf("exit code %d, %v: %s", code, err, out)
	}
	if len(got.Files) != 7 || len(got.Trays) != 1 || got.Trays[0]["root_area_mean_mm2"] != 20.0 || len(got.Unused) != 1 ||
		got.Unused[0].Why != "0 of 4 markers found: lay the card beside the tray" {
		t.Errorf("JSON is %+v", got)
	}
}

func TestReportFails(t *testing.T) {
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitFailed, []string{"report", trialFolder(t)}, "measure"},
		{exitFailed, []string{"report", filepath.Join(t.TempDir(), "gone")}, "trial.yaml"},
		{exitUsage, []string{"report"}, "folder"},
		{exitUsage, []string{"report", "--colour", "."}, "--colour"},
	} {
		if code, _, errs := call(c.args...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit code %d, want %d: %s", c.args, code, c.want, errs)
		}
	}
}

// Readings of another plan, of photos that are gone and photos without a reading are listed, a line each, and the exit code says so.
func TestReportTellsReadingsThatAreNotTheTrials(t *testing.T) {
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50))
	plan := filepath.Join(dir, "trial.yaml")
	text, err := os.ReadFile(plan)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(plan, bytes.Replace(text, []byte("plug_bottom_mm: 34"), []byte("plug_bottom_mm: 30"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := call("report", dir)
	if code != exitAttention || strings.Count(errs, "was measured with a different plan or program version") != 2 || !strings.Contains(errs, "aa.jpg: was measured") {
		t.Errorf("another plan: exit code %d, %s", code, errs)
	}
	if code, out, errs := call("compare", dir); code != exitAttention || !strings.Contains(errs, "aa.jpg: was measured") || out == "" {
		t.Errorf("compare by another plan: exit code %d, %s", code, errs)
	}
	if err := os.WriteFile(plan, text, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "photos", "new.jpg"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs = call("report", dir)
	if code != exitAttention || strings.Count(errs, "aa.jpg") != 1 || strings.Count(errs, "is missing, but its figures still count") != 2 || !strings.Contains(errs, "new.jpg: has not been measured") {
		t.Errorf("photos gone: exit code %d, %s", code, errs)
	}
	for _, name := range []string{"index.html", "photos.csv"} { // readers of a number learn that nobody can look at its photo again
		if text, err := os.ReadFile(filepath.Join(dir, "report", name)); err != nil || strings.Count(string(text), "is no longer in the trial’s folder") < 2 {
			t.Errorf("%s does not say that two photos are gone (%v)", name, err)
		}
	}
}
