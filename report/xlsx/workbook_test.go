package xlsx

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/testtrial"
)

func TestWorkbookAgreesWithCSV(t *testing.T) {
	trial := report.Collect(testtrial.Plan(), append(testtrial.Readings(), testtrial.WholeTrays()...))
	book := reopen(t, trial)
	var plugs, trays bytes.Buffer
	if err := report.WritePlugsCSV(&plugs, trial); err != nil {
		t.Fatal(err)
	}
	if err := report.WriteTraysCSV(&trays, trial); err != nil {
		t.Fatal(err)
	}
	header, _, _ := strings.Cut(plugs.String(), "\n")
	var names []string
	for _, c := range trayColumns() {
		names = append(names, c.Name)
	}
	compareTable(t, book, allPlugsSheet, strings.Split(header, ","), plugs.String())
	compareTable(t, book, allTraysSheet, names, trays.String())
}

// compareTable compares each cell of a sheet with the CSV column of that name: what it holds, and what it shows where the CSV is no
// finer than that.
func compareTable(t *testing.T, book *excelize.File, sheet string, names []string, text string) {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, name := range records[0] {
		at[name] = i
	}
	for k, record := range records[1:] {
		for i, name := range names {
			got, err := book.GetCellValue(sheet, cell(i+1, k+2))
			want := record[at[name]]
			raw, _ := book.GetCellValue(sheet, cell(i+1, k+2), excelize.Options{RawCellValue: true})
			held, errHeld := strconv.ParseFloat(raw, 64)
			table, errTable := strconv.ParseFloat(want, 64)
			same := errHeld == nil && errTable == nil && held == table && (len(got) < len(want) || got == want)
			if err != nil || got != want && !same {
				t.Fatalf("%s, row %d: %s is %q (%v), in the CSV %q", sheet, k+2, name, got, err, want)
			}
		}
	}
}

func TestWorkbookHoldsNumbersAsNumbersAndTextAsText(t *testing.T) {
	p := testtrial.Plan()
	p.Treatments[0].Name, p.Trays[0].Treatment = "=1+1", "=1+1"
	book := reopen(t, report.Collect(p, []reading.Reading{testtrial.Reading("a.jpg", 1, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 12.346, 0))}))
	if kind, _ := book.GetCellType(allPlugsSheet, "I2"); kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
		t.Errorf("an area has cell type %v", kind)
	}
	raw, _ := book.GetCellValue(allPlugsSheet, "I2", excelize.Options{RawCellValue: true})
	if v, err := strconv.ParseFloat(raw, 64); err != nil || v != 12.35 {
		t.Errorf("the area is held as %q, want what the CSV shows", raw)
	}
	if formula, _ := book.GetCellFormula(allPlugsSheet, "E2"); formula != "" {
		t.Errorf("a treatment's name became the formula %q", formula)
	}
	if text, _ := book.GetCellValue(allPlugsSheet, "E2"); text != "=1+1" {
		t.Errorf("the treatment is %q", text)
	}
}

func TestWorkbookDrawsTheTray(t *testing.T) {
	book := reopen(t, report.Collect(testtrial.Plan(), testtrial.Readings()))
	if got := fmt.Sprint(book.GetSheetList()); got != "[Result Growth and colour Comparisons All trays All plugs Method Chart data Tray 1 Tray 7]" {
		t.Errorf("sheets are %s", got)
	}
	// The last day first. A block has its heading, a caption, the columns' numbers, five rows and a gap: day 17's root area from row 3 on and
	// brown roots from row 12, day 10's from row 21.
	for at, want := range map[string]string{
		"A1": "Tray 7 – base feed", "A3": "Day 17: root area (mm²)", "B6": "60.0",
		"A12": "Day 17: brown root share (%)", "B15": "1.0", "A21": "Day 10: root area (mm²)", "B23": "1", "A24": "A", "B24": "10.0", "C24": "20.0", "D24": "empty",
		"E24": "hidden", "K24": "30.0", "B25": "40.0", "C25": "",
	} {
		if got, _ := book.GetCellValue("Tray 7", at); got != want {
			t.Errorf("%s is %q, want %q", at, got, want)
		}
	}
}

func TestWorkbookSameBytes(t *testing.T) {
	var first, second bytes.Buffer
	for _, w := range []*bytes.Buffer{&first, &second} {
		if err := Write(w, report.Collect(testtrial.Plan(), testtrial.WholeTrays()), Options{Compared: compare.Of(testtrial.Plan(), testtrial.WholeTrays(), nil, compare.Options{})}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same trial gave different bytes")
	}
}

func TestWorkbookIsOurs(t *testing.T) {
	props, err := reopen(t, report.Collect(testtrial.Plan(), testtrial.Readings())).GetDocProps()
	if err != nil {
		t.Fatal(err)
	}
	// The last photo was taken on day 17 at 9:00 in a zone one hour east.
	if props.Title != "Kale, spring" || props.Creator != "traygauge" || props.LastModifiedBy != "traygauge" ||
		props.Created != "2026-03-19T08:00:00Z" || props.Modified != props.Created {
		t.Errorf("properties are %+v", props)
	}
}

func TestWorkbookWithoutReadings(t *testing.T) {
	book := reopen(t, report.Collect(testtrial.Plan(), nil))
	if got, _ := book.GetCellValue(allTraysSheet, "A2"); got != "" {
		t.Errorf("A2 is %q", got)
	}
}

func reopen(t *testing.T, trial *report.Trial) *excelize.File {
	t.Helper()
	return reopenWith(t, trial, Options{})
}

func reopenWith(t *testing.T, trial *report.Trial, o Options) *excelize.File {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, trial, o); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&out)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { book.Close() })
	return book
}

// Names that no spreadsheet's text can hold as they are must not break the workbook, nor run in it.
func TestWorkbookWithHostileNames(t *testing.T) {
	for _, name := range []string{"=cmd|' /C calc'!A0.jpg", "a\x01\x1b[2Jb.jpg", "a\nb\rc.jpg", "\u202egpj.exe", "bad\xff.jpg", "<&\">.jpg", strings.Repeat("x", 40000) + ".jpg", "_x0041_.jpg"} {
		p := testtrial.Plan()
		p.Trays[0].Treatment = name
		book := reopen(t, report.Collect(p, []reading.Reading{testtrial.Reading(name, 1, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 12.3, 0))}))
		for sheet, at := range map[string]string{allPlugsSheet: "A2", allTraysSheet: "A2"} {
			formula, err := book.GetCellFormula(sheet, at)
			if err != nil || formula != "" {
				t.Errorf("%.20q: formula %q, %v", name, formula, err)
			}
			if text, err := book.GetCellValue(sheet, at); err != nil || text == "" || len(text) > 32767 {
				t.Errorf("%.20q: %d bytes, %v", name, len(text), err)
			}
		}
	}
}
