package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
)

// sown is when the template’s trial is sown in tests.
var sown = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

var update = flag.Bool("update", false, "write the expected outputs again")

// The verdicts on a photo, as they are printed.
const good, doubt, retake, unfit = "good", "doubt", "retake", "not usable"

// traygauge runs one command line in memory.
func traygauge(args ...string) (code int, out, err string) {
	var o, e bytes.Buffer
	code = run(args, streams{strings.NewReader(""), &o, &e})
	return code, o.String(), e.String()
}

// trialWith makes a trial's folder with a plan and, unless it is empty, a log.
func trialWith(t *testing.T, text, log string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{plan.FileName: text, logbook.FileName: log} {
		if text == "" {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// The plans in testdata/plans print the .out files beside them; go test -update writes them again, for a person to read.
func TestCheckPlans(t *testing.T) {
	for name, want := range map[string]int{"faulty": exitFailed, "doubtful": exitOK, "template": exitOK} {
		text := plan.Template("Kale trial", sown)
		if name != "template" {
			var err error
			if text, err = os.ReadFile(filepath.Join("../../testdata/plans", name+".yaml")); err != nil {
				t.Fatal(err)
			}
		}
		code, out, words := traygauge("check", trialWith(t, string(text), ""), "--on", "2026-03-10")
		if code != want || (words == "") != (want == exitOK) {
			t.Errorf("%s: exit %d, want %d; %s", name, code, want, words)
		}
		golden := filepath.Join("../../testdata/plans", name+".out")
		if *update {
			if err := os.WriteFile(golden, []byte(out), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		expected, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if out != string(expected) {
			t.Errorf("%s: printed\n%s\nwant\n%s", name, out, expected)
		}
	}
}

func TestCheckJSON(t *testing.T) {
	dir := trialWith(t, string(plan.Template("Kale trial", sown)), logbook.Header+"\n2026-03-09T08:30:00Z,,feeding,,,1500,\n")
	code, out, words := traygauge("check", dir, "--json", "--on", "2026-03-09")
	if code != exitOK || words != "" {
		t.Fatalf("exit %d: %s", code, words)
	}
	var got struct {
		Findings []struct{ Severity string }
		Plan     struct {
			Day        int
			Treatments []struct {
				Name string
				Mix  []struct {
					Product   string
					MLPerTray float64 `json:"ml_per_tray"`
				}
			}
			Due struct {
				Feed     []int `json:"feed_trays"`
				Review   bool
				NextFeed *int `json:"next_feeding_day"`
			}
		}
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if got.Plan.Day != 7 || len(got.Plan.Due.Feed) != 0 || !got.Plan.Due.Review || got.Plan.Due.NextFeed == nil || *got.Plan.Due.NextFeed != 10 {
		t.Errorf("%+v", got.Plan)
	}
	if len(got.Findings) != 1 || got.Findings[0].Severity != "warning" {
		t.Errorf("%+v", got.Findings)
	}
	if m := got.Plan.Treatments[1].Mix; len(m) != 1 || m[0].Product != "base feed" || m[0].MLPerTray != 3 { // 2 mL/L · 1.5 L
		t.Errorf("%+v", m)
	}
}

// With mistakes JSON holds the findings and no plan; with none the list of findings is still a list.
func TestCheckJSONOfMistakes(t *testing.T) {
	code, out, _ := traygauge("check", trialWith(t, "title: x", ""), "--json")
	var got map[string]any
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitFailed || got["plan"] != nil {
		t.Errorf("exit %d, %v:\n%s", code, err, out)
	}
	measured := strings.Replace(string(plan.Template("x", sown)), "# rule_mm", "rule_mm", 1)
	if code, out, _ := traygauge("check", trialWith(t, measured, ""), "--json"); code != exitOK || !strings.Contains(out, `"findings": []`) {
		t.Errorf("exit %d:\n%s", code, out)
	}
}

func TestCheckLog(t *testing.T) {
	dir := trialWith(t, string(plan.Template("Kale trial", sown)), logbook.Header+"\nyesterday,1,feeding,,,,\n2026-03-09T08:30:00Z,77,feeding,,,,\n")
	code, out, words := traygauge("check", dir)
	if code != exitFailed || !strings.Contains(out, `log.csv:2: error: "yesterday" is not a time`) ||
		!strings.Contains(out, "log.csv:3: warning: the plan has no tray 77") || !strings.Contains(words, "1 mistake to fix") {
		t.Errorf("exit %d, %s\n%s", code, words, out)
	}
}

func TestWrongUsage(t *testing.T) {
	for _, args := range [][]string{{"check"}, {"check", "a", "b"}, {"check", "--on", "tomorrow", "a"}, {"check", "--colour", "a"}, {"chekc"}, {"new"}, {"new", "a", "b"}} {
		code, out, words := traygauge(args...)
		if code != exitUsage || out != "" || !strings.Contains(words, "--help") {
			t.Errorf("%v: exit %d, out %q, %s", args, code, out, words)
		}
	}
}

func TestCheckWithoutPlan(t *testing.T) {
	code, out, words := traygauge("check", t.TempDir())
	if code != exitFailed || out != "" || !strings.Contains(words, "start one with `traygauge new`") {
		t.Errorf("exit %d, out %q, %s", code, out, words)
	}
}

// A line that would command a terminal, or is endless, is shown tamed.
func TestMarkedLine(t *testing.T) {
	code, out, _ := traygauge("check", trialWith(t, "title: x\ncolour: \""+strings.Repeat("ü", 500)+"\"\n", ""))
	if code != exitFailed || !strings.Contains(out, "…") {
		t.Errorf("exit %d\n%s", code, out)
	}
	for line := range strings.Lines(out) {
		if strings.Contains(line, " | ") && len([]rune(line)) > 125 {
			t.Errorf("long line: %s", line)
		}
	}
	_, out, _ = traygauge("check", trialWith(t, "title: x\ncolour: \"\x1b[2J\"\n", ""))
	if strings.Contains(out, "\x1b") {
		t.Errorf("%q", out)
	}
}

func TestVersionAndCompletion(t *testing.T) {
	if code, out, _ := traygauge("--version"); code != exitOK || !strings.HasPrefix(out, "traygauge version ") {
		t.Errorf("exit %d, %q", code, out)
	}
	if code, out, _ := traygauge("completion", "bash"); code != exitOK || !strings.Contains(out, "bash completion") {
		t.Errorf("exit %d, %.60q", code, out)
	}
}

// After the last feeding day nothing is mixed any more; what the whole trial took is still said.
func TestNothingIsMixedAfterTheLastFeeding(t *testing.T) {
	fed := logbook.Header + "\n" // day 21 is the last feeding day
	for tray := 1; tray <= 10; tray++ {
		fed += fmt.Sprintf("2026-03-23T08:30:00+00:00,%d,feeding,,,,\n", tray)
	}
	dir := trialWith(t, string(plan.Template("Kale trial", sown)), fed)
	// Before sowing nothing is mixed either, and the day is said in words.
	if _, out, errs := traygauge("check", dir, "--on", sown.AddDate(0, 0, -3).Format("2006-01-02")); !strings.Contains(out, "3 days before sowing (2026-02-27)") || strings.Contains(out, "day -3") || strings.Contains(out, "Mixes on") {
		t.Errorf("%s%s", out, errs)
	}
	if _, out, errs := traygauge("check", dir, "--on", sown.AddDate(0, 0, 12).Format("2006-01-02")); !strings.Contains(out, "Mixes on day 12") {
		t.Errorf("during the trial: %s%s", out, errs)
	}
	_, out, errs := traygauge("check", dir, "--on", sown.AddDate(1, 0, 0).Format("2006-01-02"))
	if strings.Contains(out, "Mixes on day") || !strings.Contains(out, "next feeding: none") || !strings.Contains(out, "Total for the whole trial: ") {
		t.Errorf("a year later: %s%s", out, errs)
	}
}
