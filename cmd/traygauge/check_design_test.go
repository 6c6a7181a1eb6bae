package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/plan/summary"
)

// Drawing prints the same places for the same seed, leaves the plan alone, and what it prints can be put into the plan.
func TestCheckDrawPlaces(t *testing.T) {
	text := string(plan.Template("Kale trial", sown))
	dir := trialWith(t, text, "")
	code, out, words := traygauge("check", dir, "--draw-places", "--seed", "4711")
	if code != exitOK || !strings.Contains(out, "places_seed: 4711\ntrays:\n  - {tray: 1, treatment: water only, position: 7}\n") || !strings.Contains(words, "Draw only once, before sowing") {
		t.Errorf("exit %d: %s\n%s", code, words, out)
	}
	if kept, err := os.ReadFile(filepath.Join(dir, plan.FileName)); err != nil || string(kept) != text {
		t.Errorf("the plan was changed (%v)", err)
	}
	_, once, _ := traygauge("check", dir, "--draw-places", "--json", "--seed", "12")
	_, again, _ := traygauge("check", dir, "--draw-places", "--json", "--seed", "12")
	var got summary.DrawnPlaces
	if err := json.Unmarshal([]byte(once), &got); err != nil || once != again || got.Seed != 12 || len(got.Places) != 10 {
		t.Errorf("%v: %s", err, once)
	}
	for _, args := range [][]string{{"check", dir, "--seed", "3"}, {"check", dir, "--draw-places", "--seed", "-3"}} {
		if code, _, _ := traygauge(args...); code != exitUsage {
			t.Errorf("%v: exit %d", args, code)
		}
	}
}

// The plan's check says what the trial can show, and that one tray per treatment shows nothing.
func TestCheckSaysWhatShows(t *testing.T) {
	one := strings.Replace(inventedTrial, "columns: 2", "columns: 9", 1)
	code, out, _ := traygauge("check", trialWith(t, one, ""))
	if code != exitOK || !strings.Contains(out, "base feed  water only  1 : 1  none") || !strings.Contains(out, "with one tray per treatment, the trial cannot tell") {
		t.Errorf("exit %d:\n%s", code, out)
	}
	code, out, _ = traygauge("check", trialWith(t, string(plan.Template("x", sown)), ""), "--json")
	var got struct{ Plan summary.Plan }
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitOK {
		t.Fatalf("exit %d, %v", code, err)
	}
	s := got.Plan.Shows
	if len(s) != 1 || len(s[0].Of) != 5 || !(s[0].Of[0].SmallestRatio > 1.1 && s[0].Of[0].SmallestRatio < 2) || s[0].Variation.TrayCVPct != 10 {
		t.Errorf("%+v", s)
	}
	if f := got.Plan.Feeding; len(f.Days) != 1 || len(f.Totals) != 3 || f.Totals[0].ML != 120 { // base feed: 2 mL/L · 1.5 L · 8 trays · 5 days
		t.Errorf("%+v", f)
	}
}

// Past trials tell how much trays vary; a folder that is no trial is an error.
func TestCheckPast(t *testing.T) {
	past := strings.Replace(inventedTrial, "  - {tray: 7, treatment: base feed, position: 1}", "  - {tray: 7, treatment: base feed, position: 1}\n  - {tray: 8, treatment: base feed, position: 3}", 1)
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50), inventedReading("cc", 8, 60, 70))
	if err := os.WriteFile(filepath.Join(dir, plan.FileName), []byte(past), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, words := traygauge("check", trialWith(t, string(plan.Template("x", sown)), ""), "--past", dir)
	if code != exitOK || !strings.Contains(out, "Smallest difference in root area") || !strings.Contains(out, "from 1 past trial, 1 tray beyond one a treatment") {
		t.Errorf("exit %d: %s\n%s", code, words, out)
	}
	if code, _, words := traygauge("check", dir, "--past", t.TempDir()); code != exitFailed || !strings.Contains(words, "trial.yaml") {
		t.Errorf("exit %d: %s", code, words)
	}
}

func TestCheckMoved(t *testing.T) {
	log := logbook.Header + "\n2026-03-10T08:30:00Z,,feeding,,,1500,\n2026-03-09T08:30:00Z,,note,,,,no water that day\n"
	code, out, _ := traygauge("check", trialWith(t, string(plan.Template("x", sown)), log), "--on", "2026-03-10")
	if code != exitOK || !strings.Contains(out, "the feeding of day 7 was on day 8 (log: no water that day)") {
		t.Errorf("exit %d:\n%s", code, out)
	}
}
