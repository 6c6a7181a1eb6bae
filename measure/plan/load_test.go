package plan

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/finding"
)

// sown is when the template’s trial is sown in tests.
var sown = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// whole is a plan without anything to find. Tests put one line in the place of another.
const whole = `title: Kale trial
crop: kale
sown: 2026-03-02
zone: Europe/Lisbon
tray:
  rows: 5
  columns: 10
  length_mm: 540
  width_mm: 280
  pitch_mm: 50
  first_plug_mm: [45, 40]
  plug_bottom_mm: 34
  leaf_height_mm: 10
  leaf_height_mm_on_day: {7: 5, 14: 19, 21: 40}
card:
  rule_mm: 99.6
  rule_u_mm: 0.4
limits: {chlorosis_hue_deg: 100, chlorosis_chroma: 12}
volume_ml_per_tray: 1500
treatments:
  water only:
  seaweed:
    gets: [{product: seaweed extract, dose: 2 mL/L}]
    compare_with: water only
  sugar:
    gets: [{product: cane sugar, dose: 1 mL/L, additive: true}]
    compare_with: water only
  both:
    gets: [{product: seaweed extract, dose: 2 mL/L}, {product: cane sugar, dose: 1 mL/L, additive: true}]
    compare_with: [seaweed, sugar]
trays:
  - {tray: 1, treatment: water only, position: 8}
  - {tray: 2, treatment: water only, position: 3}
  - {tray: 3, treatment: seaweed, position: 4}
  - {tray: 4, treatment: seaweed, position: 1}
  - {tray: 5, treatment: sugar, position: 6}
  - {tray: 6, treatment: sugar, position: 5}
  - {tray: 7, treatment: both, position: 2}
  - {tray: 8, treatment: both, position: 7}
feeding_days: [0, 7, 14]
review_days: [21, 7, 14]
`

func TestWholePlan(t *testing.T) {
	p, findings, err := Parse([]byte(whole), FileName)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range findings {
		t.Errorf("found in a plan without faults: %v", f)
	}
	lisbon, _ := time.LoadLocation("Europe/Lisbon")
	if want := time.Date(2026, 3, 2, 0, 0, 0, 0, lisbon); !p.Sown.Equal(want) {
		t.Errorf("sown %v, want %v", p.Sown, want)
	}
	if s := p.Tray; s.Rows != 5 || s.Columns != 10 || s.LengthMM != 540 || s.WidthMM != 280 || s.PitchMM != 50 ||
		s.FirstU != 45 || s.FirstV != 40 || s.PlugBottomMM != 34 || leafHeight(s, 7) != 5 || leafHeight(s, 8) != 7 {
		t.Errorf("tray %+v", s)
	}
	if p.Card != (Card{99.6, 0.4}) || p.Limits != (Limits{100, 12}) || p.Volume.MLPerTray != 1500 {
		t.Errorf("card %+v, limits %+v, volume %+v", p.Card, p.Limits, p.Volume)
	}
	if got := fmt.Sprint(p.FeedDays, p.ReviewDays); got != "[0 7 14] [7 14 21]" {
		t.Errorf("days %s", got)
	}
	if both := p.Treatment("both"); both == nil || fmt.Sprint(both.CompareWith) != "[seaweed sugar]" || len(both.Gets) != 2 || !both.Gets[1].Additive {
		t.Errorf("both: %+v", both)
	}
	if p.Treatment("nothing") != nil {
		t.Error("found a treatment that is not there")
	}
	if got := p.TreatmentOf(7); got != "both" {
		t.Errorf("tray 7 gets %q", got)
	}
}

func TestDefaults(t *testing.T) {
	text := whole
	for _, line := range []string{
		"  first_plug_mm: [45, 40]\n", "  plug_bottom_mm: 34\n", "  rule_mm: 99.6\n", "  rule_u_mm: 0.4\n",
		"limits: {chlorosis_hue_deg: 100, chlorosis_chroma: 12}\n",
	} {
		text = strings.Replace(text, line, "", 1)
	}
	p, _, err := Parse([]byte(text), FileName)
	if err != nil {
		t.Fatal(err)
	}
	// The plugs in the tray's middle: (540 − 9·50)/2 and (280 − 4·50)/2. Bottom 0.68 · 50.
	if s := p.Tray; s.FirstU != 45 || s.FirstV != 40 || s.PlugBottomMM != 34 {
		t.Errorf("tray %+v", s)
	}
	if p.Card != (Card{100, 2}) || p.Limits != (Limits{105, 15}) {
		t.Errorf("card %+v, limits %+v", p.Card, p.Limits)
	}
	p, _, err = Parse([]byte(strings.Replace(whole, "  rule_u_mm: 0.4\n", "", 1)), FileName)
	if err != nil || p.Card != (Card{99.6, 0.5}) {
		t.Errorf("measured without saying how well: %+v, %v", p.Card, err)
	}
}

// TestFindings puts new lines in the place of old ones in the whole plan. The line on which something has to be found ends
// in the mark «!».
func TestFindings(t *testing.T) {
	const mark = "«!»"
	for _, c := range []struct {
		old, new string
		severity finding.Severity
		message  string
		remedy   string
	}{
		// Keys.
		{"crop: kale", "crops: kale«!»", finding.Error, `the plan has no setting "crops"`, `did you mean "crop"?`},
		{"crop: kale", "weather: fine«!»", finding.Error, `no setting "weather"`, "use one of"},
		{"crop: kale", "crop: kale\ncrop: chard«!»", finding.Error, `"crop" twice, first on line 2`, "keep one"},
		{"  pitch_mm: 50", "  pich_mm: 50«!»", finding.Error, `tray has no setting "pich_mm"`, `"pitch_mm"`},
		{"tray: 8, treatment: both", "trey: 8, treatment: both«!»", finding.Error, `a tray has no setting "trey"`, `"tray"`},
		{"    compare_with: water only\n  sugar", "    compare-with: water only«!»\n  sugar", finding.Error, `treatment "seaweed" has no setting "compare-with"`, `"compare_with"`},
		{"crop: kale", "? [a, b]«!»\n: c", finding.Error, "the plan contains a name that is a list", ""},
		{"  rows: 5\n", "  <<: {rows: 5}«!»\n", finding.Error, `tray has no setting "<<"`, ""},
		// Types and ranges.
		{"title: Kale trial", "title: [Kale]«!»", finding.Error, "title must be text, not a list", ""},
		{"title: Kale trial", "title:«!»", finding.Error, "title must be text, not blank", ""},
		{"title: Kale trial", "title: ../away«!»", finding.Error, "looks like a file path", ""},
		{"title: Kale trial", "title: /away«!»", finding.Error, "looks like a file path", ""},
		{"title: Kale trial", "title: '=1+1'«!»", finding.Error, "as a formula", ""},
		{"  rows: 5", "  rows: five«!»", finding.Error, `rows must be a number, not "five"`, ""},
		{"  rows: 5", "  rows: 27«!»", finding.Error, "rows is 27", "from 1 to 26"},
		{"  rows: 5", "  rows: 4.5«!»", finding.Error, "rows must be a whole number", ""},
		{"  rows: 5", "  rows: .nan«!»", finding.Error, "rows must be a number", ""},
		{"  columns: 10", "  columns: -.inf«!»", finding.Error, "columns must be a number", ""},
		{"  pitch_mm: 50", "  pitch_mm: 50,5«!»", finding.Error, `not "50,5"`, "a point for decimals"},
		{"  pitch_mm: 50", "  pitch_mm: 1e999«!»", finding.Error, "pitch_mm must be a number", ""},
		{"  rows: 5", "  rows: &r 5\n  plug_bottom_mm: *r«!»", finding.Error, "not a reference (*r)", ""},
		{"  plug_bottom_mm: 34", "  plug_bottom_mm: 60«!»", finding.Error, "larger than the pitch of 50 mm", ""},
		// A1's centre 45, nine pitches of 60 and half a bottom of 34: 45 + 540 + 17 = 602.
		{"  length_mm: 540\n  width_mm: 280\n  pitch_mm: 50", "  length_mm: 540«!»\n  width_mm: 300\n  pitch_mm: 60", finding.Error, "10 columns of plugs would reach from 28 to 602 mm", ""},
		// 540 less 45 and nine pitches of 50 leaves 45 behind the last plugs; of 560 it leaves 65. A1's centre at 49 leaves 41.
		{"  length_mm: 540", "  length_mm: 560«!»", finding.Warning, "the first plugs are 45 mm from the end of the tray but the last ones 65 mm", "check length_mm"},
		{"  width_mm: 280\n  pitch_mm: 50\n  first_plug_mm: [45, 40]", "  width_mm: 280«!»\n  pitch_mm: 50\n  first_plug_mm: [45, 44]", finding.Warning, "the first plugs are 44 mm from the end of the tray but the last ones 36 mm", "first_plug_mm and rows"},
		{"  first_plug_mm: [45, 40]", "  first_plug_mm: [45]«!»", finding.Error, "first_plug_mm must be a list of two numbers", ""},
		{"  length_mm: 540\n  width_mm: 280", "  length_mm: 280\n  width_mm: 540«!»", finding.Error, "width_mm 540 is more than length_mm 280", "swap"},
		{"{7: 5, 14: 19, 21: 40}", "{7: 5, 07: 19, 21: 40}«!»", finding.Error, "day 7 twice", ""},
		{"  pitch_mm: 50\n", "", finding.Error, "tray is missing pitch_mm", ""}, // at the first line below tray
		{"  rule_mm: 99.6", "  rule_mm: 9.96«!»", finding.Error, "rule_mm is 9.96", "from 90 to 110"},
		{"volume_ml_per_tray: 1500", "volume_ml_per_tray: -5«!»", finding.Error, "volume_ml_per_tray is -5", ""},
		// Dates and days.
		{"sown: 2026-03-02", "sown: 2026-02-30«!»", finding.Error, "2026-02-30, which does not exist", ""},
		{"sown: 2026-03-02", "sown: 2 March«!»", finding.Error, `sown must be a date, not "2 March"`, "year-month-day"},
		{"sown: 2026-03-02", "sown: 0026-03-02«!»", finding.Error, "sown is in the year 26", ""},
		{"zone: Europe/Lisbon", "zone: Lisbon«!»", finding.Error, `unknown time zone "Lisbon"`, ""},
		{"zone: Europe/Lisbon", "zone: ../etc/passwd«!»", finding.Error, "unknown time zone", ""},
		{"zone: Europe/Lisbon", "zone: /etc/localtime«!»", finding.Error, "unknown time zone", ""},
		{"review_days: [21, 7, 14]", "review_days: [-1, 7]«!»", finding.Error, "day -1, which is before sowing", ""},
		{"review_days: [21, 7, 14]", "review_days: [7, 7]«!»", finding.Error, "day 7 twice", ""},
		{"review_days: [21, 7, 14]", "review_days: [2026-03-09]«!»", finding.Error, "contains the date 2026-03-09", ""},
		{"review_days: [21, 7, 14]", "review_days: 7«!»", finding.Error, "review_days must be a list, not the number 7", ""},
		// Doses.
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: -2 mL/L}]«!»\n    compare_with: water", finding.Error, `the dose "-2 mL/L" cannot be read`, "write it like"},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 2}]«!»\n    compare_with: water", finding.Error, "the dose 2 has no unit", ""},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 2 g/L}]«!»\n    compare_with: water", finding.Error, `the dose "2 g/L" is a weight`, ""},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 200 mL/L}]«!»\n    compare_with: water", finding.Error, "too high (200 mL/L)", ""},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 0 mL/L}]«!»\n    compare_with: water", finding.Error, "is zero", ""},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 2,5 mL/L}]«!»\n    compare_with: water", finding.Error, `the dose 2,5 mL/L has a comma`, "write a point for decimals: 2.5 mL/L"},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: '2,5 mL/L'}]«!»\n    compare_with: water", finding.Error, `the dose 2,5 mL/L has a comma`, "write a point for decimals: 2.5 mL/L"},
		{"{product: seaweed extract, dose: 2 mL/L}]", "{product: seaweed extract}]«!»", finding.Error, "without a dose", ""},
		{"{product: seaweed extract, dose: 2 mL/L}]", "{product: a, dose: 2 mL/L}, {product: a, dose: 3 mL/L}]«!»", finding.Error, `gets "a" twice from day 0`, ""},
		// Names that have to exist, and circles.
		{"    compare_with: water only\n  sugar", "    compare_with: water«!»\n  sugar", finding.Error, `compared with "water", which is not among the treatments`, "use one of"},
		{"    compare_with: water only\n  sugar", "    compare_with: water onyl«!»\n  sugar", finding.Error, "not among the treatments", `did you mean "water only"?`},
		{"    compare_with: water only\n  sugar", "    compare_with: seaweed«!»\n  sugar", finding.Error, `"seaweed" is compared with itself`, ""},
		{"    compare_with: water only\n  sugar", "    compare_with: [water only, water only]«!»\n  sugar", finding.Error, `"water only" twice`, ""},
		{"    compare_with: water only\n  sugar", "    compare_with: both\n  sugar", finding.Error, "the controls form a circle: seaweed → both → seaweed", ""},
		{"{tray: 4, treatment: seaweed,", "{tray: 4, treatment: kelp,«!»", finding.Error, `tray 4 gets "kelp", which is not among`, "use one of"},
		{"{tray: 4,", "{tray: 3,«!»", finding.Error, "tray 3 is listed twice, first on line 34", ""},
		{"{tray: 4,", "{tray: 241,«!»", finding.Error, "a tray’s number is 241", "from 1 to 240"},
		{"{tray: 4,", "{tray: 0,«!»", finding.Error, "a tray’s number is 0", ""},
		{"seaweed, position: 1}", "seaweed, position: 8}«!»", finding.Error, "position 8 is used twice, first on line 32", ""},
		{"seaweed, position: 4}\n  - {tray: 4, treatment: seaweed, position: 1}", "seaweed, row: 1, column: 2}\n  - {tray: 4, treatment: seaweed, row: 1, column: 2}«!»", finding.Error,
			"row 1, column 2 of the bench is used twice, first on line 34", ""},
		{"seaweed, position: 1}", "seaweed, row: 0}«!»", finding.Error, "a tray’s row on the bench is 0", "from 1 to 240"},
		{"{tray: 4, ", "{«!»", finding.Error, "a tray is missing its number", ""},
		{"  water only:\n", "  water only: nothing«!»\n", finding.Error, "must be a block of names and values", ""},
		// The file itself.
		{"crop: kale", "crop: kale\n\tcrop: kale«!»", finding.Error, "a tab is used for indentation", "with spaces"},
		{"crop: kale", "crop: \xff«!»", finding.Error, "not UTF-8", ""},
		{"crop: kale", "crop: kale\n---«!»\nmore: 1", finding.Error, "a second YAML document begins here", ""},
		{"crop: kale", "crop: 'kale«!»", finding.Error, "not valid YAML", "quote"},
		{"  width_mm", "   width_mm«!»", finding.Error, "not valid YAML", "indented alike"},
		{"  water only:\n  seaweed:", "  water #1:\n  seaweed:«!»", finding.Error, "not valid YAML", "a # or a colon inside a name"},
		{"product: seaweed extract, dose: 2 mL/L}]", "product: seaweed extract, dose: 2 mL/L from_day: 7}]«!»", finding.Error, "not valid YAML", ""},
		// Warnings.
		{"dose: 2 mL/L}]\n    compare_with: water only", "dose: 2 mL/L}, {product: base feed, dose: 1 mL/L}]\n    compare_with: water only«!»", finding.Warning,
			"in 2 things (seaweed extract 2 mL/L; base feed 1 mL/L)", ""},
		{"compare_with: [seaweed, sugar]", "compare_with: [seaweed, sugar, water only]«!»", finding.Warning, `"both" differs from its control "water only" in 2 things`, ""},
		{"  both:\n    gets: [{product: seaweed extract, dose: 2 mL/L}, {product: cane sugar, dose: 1 mL/L, additive: true}]\n    compare_with: [seaweed, sugar]",
			"  both:«!»\n    gets: [{product: seaweed extract, dose: 2 mL/L}, {product: cane sugar, dose: 1 mL/L, additive: true}]\n    compare_with: [seaweed]", finding.Warning,
			"no control gets the additive alone", `add "sugar" to its compare_with`},
		{"  water only:\n", "  water only: {gets: [{product: base feed, dose: 1 mL/L}]}\n", finding.Warning, "no treatment gets water only", ""},
		{"    gets: [{product: cane sugar, dose: 1 mL/L, additive: true}]\n", "    gets: []\n", finding.Warning, "gets the same as its control", ""},
		{"{tray: 4, treatment: seaweed", "{tray: 4, treatment: sugar", finding.Warning, `only one tray for "seaweed": plugs in one tray are not replicates`, ""},
		{"seaweed, position: 1}", "seaweed}", finding.Warning, "these trays have no position on the bench: 4", ""},
		{"  rule_mm: 99.6\n", "", finding.Warning, "the printed card has not been measured", ""},
		{"product: cane sugar, dose: 1 mL/L, additive: true}]\n    compare_with: water", "product: Cane sugar, dose: 1 mL/L, additive: true}]\n    compare_with: water", finding.Warning,
			`"cane sugar" is also spelled "Cane sugar"`, ""},
		{"dose: 2 mL/L}]\n    compare_with: water", "dose: 2 mL/L, from_day: 15}]«!»\n    compare_with: water", finding.Warning, "from day 15, but the last feeding is on day 14", ""},
		{"volume_ml_per_tray: 1500\n", "", finding.Warning, "amounts cannot be calculated", ""},
		{"volume_ml_per_tray: 1500", "volume_ml_per_tray: 1.5«!»", finding.Warning, "a tray of 50 plugs gets only 1.5 mL of mix", "1500 for 1.5 L"}, // less than a drop for each plug
		{"review_days: [21, 7, 14]\n", "", finding.Warning, "no review days", ""},
		{"zone: Europe/Lisbon\n", "", finding.Note, "the plan has no time zone", ""},
		{"  leaf_height_mm: 10\n", "", finding.Note, "leaf_height_mm is missing", ""},
	} {
		if !strings.Contains(whole, c.old) {
			t.Errorf("the whole plan has no %q", c.old)
			continue
		}
		marked := strings.Replace(whole, c.old, c.new, 1)
		line := 0
		if before, _, ok := strings.Cut(marked, mark); ok {
			line = 1 + strings.Count(before, "\n")
		}
		p, findings, err := Parse([]byte(strings.Replace(marked, mark, "", 1)), FileName)
		found := false
		for _, f := range findings {
			found = found || f.Severity == c.severity && strings.Contains(f.Message, c.message) &&
				strings.Contains(f.Remedy, c.remedy) && (line == 0 || f.Line == line)
		}
		if !found {
			t.Errorf("%q: want %v on line %d with %q and %q; found\n%v", c.new, c.severity, line, c.message, c.remedy, list(findings))
		}
		if (p == nil) != (c.severity == finding.Error) || (err == nil) == (c.severity == finding.Error) {
			t.Errorf("%q: plan %v, error %v", c.new, p != nil, err)
		}
	}
}

func list(findings []finding.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		fmt.Fprintln(&b, "   ", f)
	}
	return b.String()
}

// All mistakes are listed at once, in the order of their lines, and the error repeats them.
func TestAllMistakesAtOnce(t *testing.T) {
	text := strings.NewReplacer("rows: 5", "rows: 50", "crop:", "crap:", "{tray: 4,", "{tray: 3,", "treatment: both", "treatment: bath").Replace(whole)
	_, findings, err := Parse([]byte(text), FileName)
	var mistakes *finding.MistakesError
	if !errors.As(err, &mistakes) {
		t.Fatalf("error %v", err)
	}
	var lines []int
	for _, f := range findings {
		lines = append(lines, f.Line)
	}
	if got := fmt.Sprint(lines); got != "[2 6 35 38 39]" || len(mistakes.Findings) != 5 {
		t.Errorf("lines %s:\n%s", got, list(findings))
	}
	if words := err.Error(); !strings.HasPrefix(words, "trial.yaml has 5 mistakes") ||
		!strings.Contains(words, `trial.yaml:2: error: the plan has no setting "crap": did you mean "crop"?`) {
		t.Error(words)
	}
}

func TestEmptyAndHuge(t *testing.T) {
	for text, want := range map[string]string{
		"":                                 "the plan is empty",
		"# only words\n":                   "the plan is empty",
		"---\n":                            "the plan is empty",
		"just words":                       "the plan must be a block",
		"{}":                               "the plan is missing title",
		strings.Repeat("#", maxBytes+1):    "the limit is 1 MiB",
		"\xff\xfet\x00i\x00":               "not UTF-8",
		"title: a\x00b":                    "NUL byte",
		strings.Repeat("[", 20000):         "not valid YAML",
		"a: &a [*a]":                       `no setting "a"`,
		"treatments: &t {x: *t}\ntrays: 3": "not a reference",
	} {
		p, findings, err := Parse([]byte(text), FileName)
		if p != nil || err == nil || !strings.Contains(list(findings), want) {
			t.Errorf("%.20q: want %q, found\n%s", text, want, list(findings))
		}
	}
}

// A file full of mistakes is given up early and still called faulty.
func TestManyMistakes(t *testing.T) {
	var b strings.Builder
	for i := range 50000 {
		fmt.Fprintf(&b, "key%d: %d\n", i, i)
	}
	_, findings, err := Parse([]byte(b.String()), FileName)
	if err == nil || len(findings) != 300+1 || !strings.Contains(list(findings), "there are more mistakes") {
		t.Errorf("%d findings, %v", len(findings), err != nil)
	}
}

func TestByteOrderMarkAndCarriageReturns(t *testing.T) {
	_, findings, err := Parse([]byte("\ufeff"+strings.ReplaceAll(whole, "\n", "\r\n")), FileName)
	if err != nil || len(findings) > 0 {
		t.Errorf("%v\n%s", err, list(findings))
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	if _, _, err := Load(dir); !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), "traygauge new") {
		t.Errorf("no plan: %v", err)
	}
	if err := os.Mkdir(filepath.Join(dir, FileName), 0o777); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("a folder in the plan's place: %v", err)
	}
	dir = t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, FileName), Template("Spring kale", sown), 0o666); err != nil {
		t.Fatal(err)
	}
	if p, _, err := Load(dir); err != nil || p.Title != "Spring kale" || len(p.Trays) != 10 {
		t.Errorf("template: %v", err)
	}
}

// The template loads, whatever the title, is sown on the day given, and leaves one thing to do: measure the card.
func TestTemplate(t *testing.T) {
	for given, want := range map[string]string{
		"Kale trial": "Kale trial", `"quoted": yes # no`: `"quoted": yes # no`, "a & <b>": "a & <b>", "2026": "2026", "Grünkohl": "Grünkohl",
		"../away": "A trial", "": "A trial", "=1": "A trial", "two\nlines": "A trial",
	} {
		p, findings, err := Parse(Template(given, sown), FileName)
		if err != nil || p.Title != want || p.Sown.Format(time.DateOnly) != "2026-03-02" {
			t.Errorf("title %q: sown %v, %v", given, p.Sown, err)
			continue
		}
		if len(findings) != 1 || !strings.Contains(findings[0].Message, "has not been measured") {
			t.Errorf("title %q:\n%s", given, list(findings))
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Add(Template("Kale", sown))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, findings, err := Parse(text, FileName)
		if (p == nil) != (err != nil) || finding.HasErrors(findings) != (err != nil) {
			t.Fatalf("plan %v, error %v, findings\n%s", p != nil, err, list(findings))
		}
		for _, f := range findings {
			if f.Line < 1 || f.Column < 0 || f.Message == "" {
				t.Fatalf("finding without a place: %+v", f)
			}
		}
		if p == nil {
			return
		}
		if len(p.PlugNames()) != p.Tray.Rows*p.Tray.Columns || p.DayOf(p.Sown) != 0 || len(p.Treatments) == 0 || len(p.Trays) == 0 {
			t.Fatalf("half a plan: %+v", p)
		}
		for _, tray := range p.Trays {
			if p.Treatment(tray.Treatment) == nil {
				t.Fatalf("tray %d gets nothing known", tray.Number)
			}
		}
	})
}

func TestAPlanDoesNotLeadOutOfTheTrial(t *testing.T) {
	dir, away := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(away, FileName), []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(away, FileName), filepath.Join(dir, FileName)); err != nil {
		t.Skip("this system has no symbolic links")
	}
	if _, _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "outside the trial") {
		t.Errorf("a plan elsewhere: %v", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "plans"), 0o755); err != nil {
		t.Fatal(err)
	}
	inside := filepath.Join(dir, "plans", "first.yaml")
	if err := os.WriteFile(inside, Template("Kale", sown), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, FileName)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(inside, filepath.Join(dir, FileName)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Load(dir); err != nil {
		t.Errorf("a link inside the trial: %v", err)
	}
}
