package logbook

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/finding"
	"traygauge/measure/plan"
)

func TestParseLog(t *testing.T) {
	const text = Header + `
2026-03-09T08:30:00+01:00,7,feeding,seaweed extract,3,1500,"slow, to the last drop"
2026-03-09T09:00:00+01:00,,Lamp,,,,raised by a hand
yesterday,7,feeding,,,,
2026-03-09T09:00:00+01:00,241,feeding,,,,
2026-03-09T09:00:00+01:00,1,feeding,,-3,,
2026-03-09T09:00:00+01:00,1,feeding
`
	entries, findings := Parse([]byte(text), FileName)
	if len(entries) != 2 {
		t.Fatalf("%d entries: %+v", len(entries), entries)
	}
	e := entries[0]
	if !e.When.Equal(time.Date(2026, 3, 9, 7, 30, 0, 0, time.UTC)) || e.Tray != 7 || e.What != Feeding || e.AmountML != 3 || e.WaterML != 1500 ||
		e.Note != "slow, to the last drop" || e.Line != 2 {
		t.Errorf("%+v", e)
	}
	if e := entries[1]; e.Tray != 0 || e.What != "lamp" || !math.IsNaN(e.AmountML) || !math.IsNaN(e.WaterML) {
		t.Errorf("what was not written down has to be missing: %+v", e)
	}
	for i, want := range []string{
		`log.csv:4: error: "yesterday" is not a time`, `log.csv:5: error: "241" is not a tray`, `log.csv:6: error: amount_ml "-3"`, `log.csv:7: error: this line has 3 columns instead of 7`,
	} {
		if i >= len(findings) || !strings.HasPrefix(findings[i].String(), want) {
			t.Errorf("want %s; found\n%s", want, list(findings))
		}
	}
}

// Where decimals have a comma, a spreadsheet writes them in quotes, and people without.
func TestDecimalCommasInTheLog(t *testing.T) {
	for line, want := range map[string]string{
		`2026-03-09T09:00:00+01:00,1,feeding,base feed,"3,5",1500,`: "write a point for decimals: 3.5",
		`2026-03-09T09:00:00+01:00,1,feeding,base feed,3,5,1500,`:   "write amounts with a decimal point, and put quotes around a note that contains commas",
	} {
		if _, findings := Parse([]byte(Header+"\n"+line+"\n"), FileName); len(findings) != 1 || !strings.Contains(findings[0].String(), want) {
			t.Errorf("%s: %s", line, list(findings))
		}
	}
}

func TestParseLogHeader(t *testing.T) {
	for text, faulty := range map[string]bool{"": false, Header: false, "\ufeff" + Header + "\r\n": false, "when,tray\n": true, "\xff": true, Header + "\n\"open": true} {
		if _, findings := Parse([]byte(text), FileName); finding.HasErrors(findings) != faulty {
			t.Errorf("%q: %s", text, list(findings))
		}
	}
}

func TestLogFits(t *testing.T) {
	p := sown()
	p.Trays = []plan.Tray{{Number: 1}}
	findings := Fits(p, []Entry{{When: p.Sown, Tray: 1, Line: 2}, {When: p.Sown, Tray: 2, Line: 3}, {When: p.Sown.Add(-time.Hour), Line: 4}}, FileName)
	if len(findings) != 2 || findings[0].Line != 3 || findings[1].Line != 4 {
		t.Errorf("%s", list(findings))
	}
	// A year too late is as easily written as one too early; the plan's last day is 24, and trials go on for a while.
	p.FeedDays, p.ReviewDays = []int{7, 24}, []int{14}
	late := func(days int) []finding.Finding {
		return Fits(p, []Entry{{When: p.Sown.AddDate(0, 0, days), What: "note", Line: 5}}, FileName)
	}
	if len(late(24+60)) != 0 || len(late(365)) != 1 || !strings.Contains(late(365)[0].String(), "log.csv:5: warning: this was 341 days after the plan’s last day") {
		t.Errorf("%s%s", list(late(24+60)), list(late(365)))
	}
	p.FeedDays, p.ReviewDays = nil, nil
	if findings = Fits(p, []Entry{{When: p.Sown, Tray: 1, What: Feeding, Product: "water", Line: 2}}, FileName); len(findings) != 1 || !strings.Contains(findings[0].String(), "leave product blank") {
		t.Errorf("%s", list(findings))
	}
	// A misspelt product or word would leave a feeding out of what was given without a word.
	p.Treatments = []plan.Treatment{{Name: "feed", Gets: []plan.Dose{{Product: "seaweed extract", MLPerL: 2}}}}
	findings = Fits(p, []Entry{{When: p.Sown, What: Feeding, Product: "seaweed extract", Line: 2}, {When: p.Sown, What: Feeding, Product: "seeweed extract", Line: 3},
		{When: p.Sown, What: "feding", Line: 4}, {When: p.Sown, What: "note", Line: 5}, {When: p.Sown, What: "harvest", Line: 6},
		{When: p.Sown, What: "weeding", Line: 7}, {When: p.Sown, What: "weather", Line: 8}, {When: p.Sown, What: "wilted", Line: 9}, {When: p.Sown, What: "damp", Line: 10}, {When: p.Sown, Line: 11}}, FileName)
	if len(findings) != 2 || findings[0].Line != 3 || findings[1].Line != 4 || !strings.Contains(findings[0].String(), `did you mean "seaweed extract"?`) || !strings.Contains(findings[1].String(), `did you mean "feeding"?`) {
		t.Errorf("%s", list(findings))
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(Header + "\n2026-03-09T08:30:00+01:00,7,feeding,seaweed extract,3,1500,\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		entries, _ := Parse(text, FileName)
		for _, e := range entries {
			if e.Line < 2 || e.Tray < 0 || e.Tray > plan.MaxTray || e.AmountML < 0 || math.IsInf(e.WaterML, 0) {
				t.Fatalf("%+v", e)
			}
		}
	})
}

// A withdrawn line takes back the feeding of its tray and moment above it, all its products, and nothing else. What is entered again
// below it counts.
func TestWithdrawnFeedings(t *testing.T) {
	const text = Header + `
2026-03-09T08:30:00Z,7,feeding,base feed,3,1500,
2026-03-09T08:30:00Z,7,feeding,sugar,1,,
2026-03-09T08:30:00Z,6,feeding,base feed,3,1500,
2026-03-09T08:30:00Z,7,note,,,,a note of the same moment
2026-03-09T09:30:00+01:00,7,withdrawn,,,,"wrong amount; 08:41, Ana"
2026-03-09T08:30:00Z,7,feeding,base feed,2.4,1200,
2026-03-09T08:30:00Z,5,withdrawn,,,,nothing there
2026-03-09T08:30:00Z,6,withdrawn,,,,
2026-03-09T08:30:00Z,6,withdrawn,,,,twice
`
	lines, findings := Parse([]byte(text), FileName)
	if len(lines) != 9 {
		t.Fatalf("%d lines are kept, want all 9", len(lines))
	}
	var left []int
	for _, e := range Standing(lines) {
		left = append(left, e.Line)
	}
	if !slices.Equal(left, []int{5, 7}) { // the note, and what was entered again
		t.Errorf("lines %v count, want 5 and 7", left)
	}
	if len(findings) != 2 || findings[0].Line != 8 || findings[1].Line != 10 || finding.HasErrors(findings) {
		t.Errorf("withdrawn without a feeding: %s", list(findings))
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, FileName), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if log, _, err := Load(dir); err != nil || len(log) != 2 {
		t.Errorf("%d entries are loaded, %v", len(log), err)
	}
	p := sown()
	p.Trays, p.FeedDays = []plan.Tray{{Number: 6}, {Number: 7}}, []int{7}
	if due := DueOn(p, 7, Standing(lines)); !slices.Equal(due.Feed, []int{6}) {
		t.Errorf("to be fed: %v, want tray 6, whose feeding was withdrawn", due.Feed)
	}
}

// Many withdrawals in a large log take no longer than its lines do.
func TestManyWithdrawals(t *testing.T) {
	lines := make([]Entry, 200_000)
	for i := range lines {
		lines[i] = Entry{When: time.Unix(int64(i%1000), 0), Tray: 1, What: []string{Feeding, Withdrawn}[i%2]}
	}
	if got := Standing(lines); len(got) != 100_000 { // even moments are fed only, odd ones withdrawn only
		t.Errorf("%d stand", len(got))
	}
}

func TestALogDoesNotLeadOutOfTheTrial(t *testing.T) {
	dir, away := t.TempDir(), filepath.Join(t.TempDir(), FileName)
	if err := os.WriteFile(away, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(away, filepath.Join(dir, FileName)); err != nil {
		t.Skip("this system has no symbolic links")
	}
	if _, _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "outside the trial") {
		t.Errorf("a log elsewhere: %v", err)
	}
}
