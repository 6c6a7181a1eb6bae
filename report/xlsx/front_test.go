package xlsx

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/testtrial"
)

// twoTraysEach is the invented trial with two trays of each treatment, so that treatments are compared and not just trays.
func twoTraysEach() (*plan.Plan, []reading.Reading) {
	p, readings := testtrial.Plan(), testtrial.WholeTrays()
	for _, r := range testtrial.WholeTrays() {
		again := r
		again.Photo, again.SHA256, again.Tray = "second/"+r.Photo, "second/"+r.Photo, r.Tray+20
		again.Plugs = slices.Clone(r.Plugs)
		for i := range again.Plugs {
			again.Plugs[i].RootAreaMM2 *= reading.Number(1.02 + 0.01*float64(r.Tray%3))
			again.Plugs[i].LeafAreaMM2 *= reading.Number(0.99 - 0.01*float64(r.Tray%2))
			again.Plugs[i].ChloroticPct *= 0.9
		}
		readings = append(readings, again)
	}
	for _, t := range p.Trays {
		p.Trays = append(p.Trays, plan.Tray{Number: t.Number + 20, Treatment: t.Treatment, Position: t.Position + 3})
	}
	return p, readings
}

// workbookOf writes and reopens the workbook of a plan and its readings, compared.
func workbookOf(t *testing.T, p *plan.Plan, readings []reading.Reading) (*excelize.File, *outcome.Result) {
	t.Helper()
	r := compare.Of(p, readings, nil, compare.Options{})
	return reopenWith(t, report.Collect(p, readings), Options{Compared: r}), r
}

// cellsOf returns all that a sheet shows, row by row.
func cellsOf(t *testing.T, book *excelize.File, sheet string) [][]string {
	t.Helper()
	rows, err := book.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func shows(rows [][]string, text string) bool {
	return slices.ContainsFunc(rows, func(row []string) bool { return slices.Contains(row, text) })
}

func TestFrontSheetAnswersWithTheLimitsBesideIt(t *testing.T) {
	p, readings := twoTraysEach()
	book, r := workbookOf(t, p, readings)
	if book.GetSheetName(0) != frontSheet || book.GetActiveSheetIndex() != 0 {
		t.Errorf("the first sheet is %q, and sheet %d is open", book.GetSheetName(0), book.GetActiveSheetIndex())
	}
	rows := cellsOf(t, book, frontSheet)
	if !shows(rows, "Kale, spring") || !shows(rows, r.Answer.Short) || !shows(rows, "Day 17 after sowing, 19 March 2026; crop: kale; 3 treatments in 6 trays") {
		t.Errorf("the head of the front sheet is %q", rows[:3])
	}
	told := 0
	for _, c := range r.Comparisons {
		if c.Day == 17 && c.Told() {
			told++
			if !shows(rows, wording.Upper(c.Sentence)+".") {
				t.Errorf("%q is not on the front sheet", c.Sentence)
			}
		}
	}
	if told < 6 {
		t.Errorf("%d sentences; there are two comparisons of three quantities", told)
	}
	for _, l := range r.Limits {
		if !shows(rows, "• "+wording.Upper(strings.TrimSuffix(l, "."))+".") {
			t.Errorf("the limit %q is not on the front sheet", l)
		}
	}
	for _, c := range report.ResultCautions(false) {
		if !shows(rows, "• "+c) {
			t.Errorf("the caution %q is not on the front sheet", c)
		}
	}
	// The limits stand to the right of the answers, not below them.
	for i, row := range rows {
		if len(row) >= limitsStart && row[limitsStart-1] == "What this trial cannot show" && row[0] == "" {
			t.Errorf("in row %d the limits have nothing beside them", i+1)
		}
	}
}

// pointsBriefly is what the terminal prints of a share as a cell shows it: the column's head says that points are percentage points.
func pointsBriefly(unit, words string) string {
	if unit != "%" {
		return words
	}
	return strings.Replace(words, "percentage points", "points", 1)
}

// The figures of the front sheet are the terminal's to the last digit: a cell's number format shows what the terminal prints.
func TestFrontSheetFiguresAreTheTerminals(t *testing.T) {
	p, readings := twoTraysEach()
	book, r := workbookOf(t, p, readings)
	rows := cellsOf(t, book, frontSheet)
	found := 0
	for _, c := range r.Comparisons {
		if c.Day != 17 || !slices.Contains(inFigures, c.Quantity) {
			continue
		}
		ends := strings.SplitN(c.IntervalWords()+" to ", " to ", 3)
		pWords := strings.TrimPrefix(strings.TrimPrefix(outcome.PWords(c.P), "p = "), "p ")
		want := []string{c.Treatment, c.Control, c.Quantity, c.MeanWords(), c.ControlWords(), pointsBriefly(c.Unit, c.EstimateWords()), ends[0], ends[1], pWords, c.VerdictWords(), "2 against 2"}
		if slices.ContainsFunc(rows, func(row []string) bool { return slices.Equal(row, want) }) {
			found++
		} else {
			t.Errorf("no row shows %q", want)
		}
	}
	if found != 6 { // two treatments against their control in three quantities
		t.Errorf("%d rows of figures, want 6", found)
	}
}

// Whatever the number and its unit, the cell shows what the terminal prints, also where a digit is about to be rounded up.
func TestFiguresShowTheTerminalsDigits(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	b := &workbook{file: f, formats: map[string]int{}}
	shownAs := func(s shown) string {
		if !s.value.Known() {
			return ""
		}
		style, err := b.styleFor(s.format)
		if err != nil {
			t.Fatal(err)
		}
		if err := b.put("Sheet1", "A1", float64(s.value)); err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle("Sheet1", "A1", "A1", style); err != nil {
			t.Fatal(err)
		}
		text, err := f.GetCellValue("Sheet1", "A1")
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	random := rand.New(rand.NewPCG(3, 4))
	values := []float64{0, 0.04, -0.04, 0.05, 0.95, 1.005, 2.675, 9.95, 99.949, 99.95, 100, 100.5, 101.5, -99.95, -0.0004, 0.0005, 12345.678}
	for range 200 {
		values = append(values, (random.Float64()-0.3)*[]float64{1, 10, 100, 1000}[random.IntN(4)])
	}
	for _, unit := range []string{"mm²", "%", "% a day", "°", "", "% CV", "mm²/mm²"} {
		for i, v := range values {
			if unit == "mm²/mm²" {
				v = math.Abs(v) // of two areas
			}
			n := reading.Number(v)
			c := outcome.Comparison{Scale: outcome.Difference, Unit: unit, Estimate: n, Lower: n - 1, Upper: n + 1, Mean: n, ControlMean: reading.Missing}
			if i%2 == 0 && v > 0 {
				c.Scale = outcome.Ratio
			}
			for what, pair := range map[string][2]string{
				"estimate": {shownAs(estimateFigure(c)), c.EstimateWords()},
				"mean":     {shownAs(meanFigure(c.Mean, unit)), c.MeanWords()},
				"control":  {shownAs(meanFigure(c.ControlMean, unit)), c.ControlWords()},
				"interval": {shownAs(endFigure(c, c.Lower, c.Upper)) + " to " + shownAs(endFigure(c, c.Upper, c.Lower)), c.IntervalWords()},
			} {
				if what == "interval" && c.SaysNothing() { // its cells hold the terminal's words
					continue
				}
				pair[1] = pointsBriefly(unit, pair[1])
				if pair[0] != pair[1] {
					t.Errorf("%s of %g %s (%s) shows %q, the terminal %q", what, v, unit, c.Scale, pair[0], pair[1])
				}
			}
		}
	}
	for _, p := range []float64{0, 1e-9, 0.00099, 0.001, 0.0995, 0.1, 0.949, 0.9999, 1, 1.0000001} {
		want := strings.TrimPrefix(strings.TrimPrefix(outcome.PWords(reading.Number(p)), "p = "), "p ")
		if got := shownAs(pFigure(reading.Number(p))); got != want {
			t.Errorf("p of %g shows %q, the terminal %q", p, got, want)
		}
	}
}

func TestFrontSheetWithNothingToCompare(t *testing.T) {
	alone := testtrial.Plan()
	for i := range alone.Treatments {
		alone.Treatments[i].CompareWith = nil
	}
	for name, book := range map[string]*excelize.File{
		"no comparisons": reopen(t, report.Collect(testtrial.Plan(), testtrial.WholeTrays())),
		"no readings":    reopen(t, report.Collect(testtrial.Plan(), nil)),
		"no controls":    reopenWith(t, report.Collect(alone, testtrial.WholeTrays()), Options{Compared: compare.Of(alone, testtrial.WholeTrays(), nil, compare.Options{})}),
	} {
		rows := cellsOf(t, book, frontSheet)
		if !shows(rows, "No comparison is possible yet. The reasons are on the right.") {
			t.Errorf("%s: the front sheet is %q", name, rows)
		}
		limits := 0
		for _, row := range rows {
			if len(row) >= limitsStart && strings.HasPrefix(row[limitsStart-1], "• ") {
				limits++
			}
		}
		if limits < 3 { // a reason and the two cautions
			t.Errorf("%s: %d lines on the right", name, limits)
		}
	}
}

func TestLinesOf(t *testing.T) {
	for _, c := range []struct {
		words string
		width float64
		want  int
	}{
		{"", 10, 1}, {"short", 10, 1}, {"one\ntwo", 10, 2}, {"four words of text", 5, 4},
		{strings.Repeat("x", 34), 10, 4}, // 11.3 of them a line
		{strings.Repeat("🌱", 10), 10, 2}, {strings.Repeat("’", 11), 10, 1},
	} {
		if got := linesOf(c.words, c.width); got != c.want {
			t.Errorf("%.20q in %g takes %d lines, want %d", c.words, c.width, got, c.want)
		}
	}
	if h := heightOf(1000); h > 409 {
		t.Errorf("a row is %g points high, more than a spreadsheet takes", h)
	}
}

// Hostile names reach a reader as they are: nothing runs, nothing breaks the file, no sheet is named by them.
func TestWorkbookKeepsHostileNames(t *testing.T) {
	for _, name := range []string{"=1+1", "+cmd|' /C calc'!A0", "<script>alert(1)</script>&amp;", "🌱🥬 sowing 🌞", strings.Repeat("long ", 40), "a/b:c*?[d]\\'e", "Result", "_x0041_", "'"} {
		p, readings := twoTraysEach()
		p.Title = name
		for i := range p.Treatments {
			if p.Treatments[i].Name == "base feed" {
				p.Treatments[i].Name = name
			}
			for k := range p.Treatments[i].CompareWith {
				p.Treatments[i].CompareWith[k] = strings.Replace(p.Treatments[i].CompareWith[k], "base feed", name, 1)
			}
		}
		for i := range p.Trays {
			if p.Trays[i].Treatment == "base feed" {
				p.Trays[i].Treatment = name
			}
		}
		file := fileOf(t, report.Collect(p, readings), Options{Compared: compare.Of(p, readings, nil, compare.Options{})})
		book, err := excelize.OpenReader(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		for sheet, kept := range map[string]bool{frontSheet: false, comparisonsSheet: false, allTraysSheet: false, allPlugsSheet: false, chartSheet: false} {
			for _, row := range cellsOf(t, book, sheet) {
				kept = kept || slices.Contains(row, name)
			}
			if !kept {
				t.Errorf("%.20q is not on the sheet %s as it is", name, sheet)
			}
		}
		for _, sheet := range book.GetSheetList() {
			if len([]rune(sheet)) > 31 || strings.ContainsAny(sheet, `[]:*?/\`) {
				t.Errorf("a sheet is called %q", sheet)
			}
		}
		noFormulas(t, file)
		book.Close()
	}
}

// noFormulas fails where a cell holds a formula (ISO/IEC 29500-1, 18.3.1.40, f), or a number that is none.
func noFormulas(t *testing.T, file []byte) {
	t.Helper()
	for name, part := range partsOf(t, file) {
		if strings.HasPrefix(name, "xl/worksheets/sheet") {
			if found := forbidden.Find(part); found != nil {
				t.Errorf("%s holds %q", name, found)
			}
		}
	}
}

var forbidden = regexp.MustCompile(`<f[ >/][^<]*|>[+-]?(NaN|Inf)<`)

// A reason can be as long as a text cell takes, and longer than a row can be high.
func TestWorkbookWithLongReasons(t *testing.T) {
	noCard := reading.Reading{Photo: strings.Repeat("a", 300), Concerns: []reading.Concern{{Kind: "no card", Words: strings.Repeat("word ", 5000), Fatal: true}}}
	p, readings := twoTraysEach()
	p.Crop = strings.Repeat("kale ", 2000)
	book, _ := workbookOf(t, p, append(readings, noCard))
	if rows := cellsOf(t, book, methodSheet); !shows(rows, noCard.Photo) {
		t.Error("the photo that gave nothing is not on the method sheet")
	}
}

func TestTablesAreFrozenFilteredAndPrintTheirHeads(t *testing.T) {
	p, readings := twoTraysEach()
	book, r := workbookOf(t, p, readings)
	names := map[string]string{}
	for _, n := range book.GetDefinedName() {
		names[n.Scope+" "+n.Name] = n.RefersTo
	}
	for sheet, rows := range map[string]int{comparisonsSheet: len(r.Comparisons), allTraysSheet: 12, allPlugsSheet: 1200} { // 6 trays, 2 days, 2 sides, 50 plugs
		panes, err := book.GetPanes(sheet)
		if err != nil || !panes.Freeze || panes.YSplit != 1 {
			t.Errorf("%s: panes are %+v (%v)", sheet, panes, err)
		}
		if names[sheet+" _xlnm.Print_Titles"] != "'"+sheet+"'!$1:$1" {
			t.Errorf("%s prints %q on each page", sheet, names[sheet+" _xlnm.Print_Titles"])
		}
		got := cellsOf(t, book, sheet)
		if want := fmt.Sprintf("'%s'!$A$1:$%s$%d", sheet, columnName(len(got[0])), rows+1); names[sheet+" _xlnm._FilterDatabase"] != want {
			t.Errorf("%s filters %q, want %q", sheet, names[sheet+" _xlnm._FilterDatabase"], want)
		}
		if len(got) != rows+1 {
			t.Errorf("%s has %d rows, want %d", sheet, len(got), rows+1)
		}
	}
}

// A page of the front sheet holds forty rows of one line. A page break and a row of three lines bring the next page forward; of a sheet of
// 400 rows five pages of forty are on paper.
func TestPagesOfTheFrontSheet(t *testing.T) {
	p := newPaper()
	p.tops = append(p.tops, 11)
	p.tall[12] = 3
	for row, want := range map[int][2]int{1: {1, 0}, 10: {1, 9}, 11: {2, 0}, 12: {2, 1}, 13: {2, 4}, 48: {2, 39}, 49: {3, 0}, 89: {4, 0}} {
		if page, used := p.at(row); page != want[0] || used != want[1] {
			t.Errorf("row %d is on page %d below %d lines, want %v", row, page, used, want)
		}
	}
	if got := newPaper().last(400); got != 200 {
		t.Errorf("the last row on paper is %d", got)
	}
	if got := newPaper().last(7); got != 7 {
		t.Errorf("the last row on paper is %d", got)
	}
}

// An interval from a hundredth to a hundred times is no result: the front sheet says so instead of its ends, and no chart draws it.
func TestWorkbookDoesNotShowIntervalsThatSpanEverything(t *testing.T) {
	p, readings := twoTraysEach()
	r := compare.Of(p, readings, nil, compare.Options{})
	wide := outcome.Comparison{}
	for i := range r.Comparisons {
		if c := &r.Comparisons[i]; c.Quantity == outcome.RootArea && c.Day == r.LastDay {
			c.Lower, c.Upper, c.Verdict = c.Estimate/123, c.Estimate*123, outcome.Unclear
			c.Sentence = c.InWords()
			wide = *c
		}
	}
	book := reopenWith(t, report.Collect(p, readings), Options{Compared: r})
	rows := cellsOf(t, book, frontSheet)
	if !slices.ContainsFunc(rows, func(row []string) bool {
		return len(row) > 7 && row[0] == wide.Treatment && row[2] == wide.Quantity && row[6] == "too wide" && row[7] == ""
	}) {
		t.Errorf("no row says that the interval too wide")
	}
	for _, row := range cellsOf(t, book, chartSheet) {
		if strings.HasPrefix(strings.Join(row, ""), "Root area against controls") {
			t.Errorf("a chart draws them: %q", row)
		}
	}
}
