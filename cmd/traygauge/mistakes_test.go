package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// The mistakes of someone's first evening: each answer says what is wrong, where, and what to do.
func TestFirstMistakesAreAnswered(t *testing.T) {
	fresh := filepath.Join(t.TempDir(), "kale-trial")
	if code, _, errs := traygauge("new", fresh); code != exitOK {
		t.Fatal(errs)
	}
	for _, c := range []struct {
		args []string
		code int
		want []string
	}{
		{[]string{"measur", fresh}, exitUsage, []string{`unknown command "measur"`, `did you mean "measure"?`}},
		{[]string{"version"}, exitUsage, []string{"did you mean --version?"}},
		{[]string{"help", "nothing"}, exitUsage, []string{`there is no command "nothing"`}},
		{[]string{"help", "measure", "fresh"}, exitUsage, []string{`there is no command "measure fresh"`}},
		{[]string{"compare", fresh, "--day", "x"}, exitUsage, []string{"--day x: give a whole number\n"}},
		{[]string{"compare", "--table", "a.csv", "--level", "high"}, exitUsage, []string{"--level high: give a number\n"}},
		{[]string{"correct", fresh, "list"}, exitUsage, []string{"then the folder", "exclude, include, empty, planted, move, undo or list"}},
		{[]string{"print", filepath.Join(fresh, "trial.yaml")}, exitFailed, []string{"trial.yaml is a file: give the trial’s folder, " + fresh}},
		{[]string{"measure", fresh}, exitOK, []string{filepath.Join(fresh, "photos") + " has no photos: copy your photos there"}},
		{[]string{"report", fresh}, exitFailed, []string{"nothing has been measured", filepath.Join(fresh, "photos"), "traygauge measure " + fresh}},
		{[]string{"compare", "--table", fresh, "--value", "x", "--by", "y"}, exitFailed, []string{"is a folder: give a CSV file"}},
		{[]string{"compare", "--table", "no such.csv", "--value", "x", "--by", "y"}, exitFailed, []string{"cannot read no such.csv: no such file", "check the file’s name and folder"}},
		{[]string{"check", filepath.Join(fresh, "photos")}, exitFailed, []string{"there is no " + filepath.Join(fresh, "photos", "trial.yaml"), "give a trial’s folder"}},
	} {
		code, _, errs := traygauge(c.args...)
		if code != c.code {
			t.Errorf("%q: exit code %d, want %d: %s", c.args, code, c.code, errs)
		}
		for _, want := range c.want {
			if !strings.Contains(errs, want) {
				t.Errorf("%q does not say %q: %s", c.args, want, errs)
			}
		}
	}
}

// What is the same of many photos is said once, with their number and the first and last of their names.
func TestTheSameDoubtIsSaidOnce(t *testing.T) {
	var readings []reading.Reading
	for i := range 6 {
		readings = append(readings, inventedReading(fmt.Sprintf("a%d", i), 1+i, 10, 30))
	}
	dir := trialFolder(t, readings...)
	file := filepath.Join(dir, plan.FileName)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), "plug_bottom_mm: 34", "plug_bottom_mm: 30", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	_, _, errs := traygauge("compare", dir)
	if n := strings.Count(errs, "was measured with a different plan or program version"); n != 1 || !strings.Contains(errs, "6 photos (a0.jpg to a5.jpg): each was measured") {
		t.Errorf("said %d times: %s", n, errs)
	}
}

// A log that a spreadsheet saved with semicolons is named as that.
func TestLogWithSemicolons(t *testing.T) {
	dir := trialFolder(t)
	log := strings.ReplaceAll(logbook.Header+"\n2026-03-09T08:30:00+01:00,,note,,,,all well\n", ",", ";")
	if err := os.WriteFile(filepath.Join(dir, logbook.FileName), []byte(log), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := traygauge("check", dir); code != exitFailed || !strings.Contains(out, "semicolons instead of commas") || !strings.Contains(out, "save it again as CSV separated by commas") {
		t.Errorf("exit code %d: %s%s", code, out, errs)
	}
}

// A mistake in the plan is shown with its line once, not once more in the last words.
func TestAMistakeIsSaidOnce(t *testing.T) {
	dir := trialFolder(t)
	if err := os.WriteFile(filepath.Join(dir, "trial.yaml"), []byte(inventedTrial+"colour: green\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := traygauge("measure", dir)
	if code != exitFailed || strings.Count(errs, "colour") != 2 { // in the message, and in the line quoted below it
		t.Errorf("exit %d: %s", code, errs)
	}
}
