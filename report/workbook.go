package report

import (
	"fmt"
	"io"
	"time"

	"github.com/xuri/excelize/v2"
)

// The workbook's sheets beside one per tray.
const (
	allTraysSheet = "All trays"
	allPlugsSheet = "All plugs"
	methodSheet   = "Method"
)

// WriteWorkbook writes trial.xlsx: all trays, a sheet per tray laid out like the tray, all plugs, and the method. Its
// numbers are the CSV files' numbers. What is missing is a blank cell.
func WriteWorkbook(w io.Writer, t *Trial) error {
	b, err := newWorkbook(t)
	if err != nil {
		return fmt.Errorf("cannot make the workbook: %w", err)
	}
	defer b.file.Close()
	if err := b.file.Write(w); err != nil {
		return fmt.Errorf("cannot write the workbook: %w", err)
	}
	return nil
}

// workbook is a spreadsheet in the making.
type workbook struct {
	file   *excelize.File
	styles styles
	trial  *Trial
}

// newWorkbook returns the filled workbook; the caller closes its file.
func newWorkbook(t *Trial) (*workbook, error) {
	b := &workbook{file: excelize.NewFile(), trial: t}
	steps := []func() error{
		b.makeStyles,
		func() error { return b.file.SetSheetName("Sheet1", allTraysSheet) },
		func() error { return fillTable(b, allTraysSheet, workbookTrayColumns(), t.Trays, trayColumnsPrinted) },
		b.traySheets,
		func() error { return fillTable(b, allPlugsSheet, plugColumns, t.Plugs, len(plugColumns)) },
		b.method,
		b.properties,
	}
	for _, step := range steps {
		if err := step(); err != nil {
			b.file.Close()
			return nil, err
		}
	}
	b.file.SetActiveSheet(0)
	return b, nil
}

// workbookTrayColumns are trayColumns in the order that suits a screen: what was found first, the photo after it.
func workbookTrayColumns() []column[TrayRow] {
	var found, photo []column[TrayRow]
	for _, c := range trayColumns {
		switch c.name {
		case "photo", "taken", "px_per_mm", "tilt_deg", "spare_photos":
			photo = append(photo, c)
		default:
			found = append(found, c)
		}
	}
	return append(found, photo...)
}

// trayColumnsPrinted are on paper; the photo's columns behind them are for the screen.
var trayColumnsPrinted = len(trayColumns) - 5

// properties names the workbook as ours. Its dates come from the data, so that the same trial gives the same bytes.
func (b *workbook) properties() error {
	title := b.trial.Plan.Title
	if title == "" {
		title = "Trial"
	}
	date := fixedDate(b.trial.Plan)
	for _, r := range b.trial.Trays {
		if r.Taken.After(date) {
			date = r.Taken.UTC()
		}
	}
	stamp := date.Format(time.RFC3339)
	if err := b.file.SetAppProps(&excelize.AppProperties{Application: "traygauge"}); err != nil {
		return err
	}
	return b.file.SetDocProps(&excelize.DocProperties{
		Title: title, Creator: "traygauge", LastModifiedBy: "traygauge", Created: stamp, Modified: stamp,
		Description: "Root area and leaf area per plug and per tray",
	})
}

// printing sets a sheet up for A4 paper, as wide as the page, its first rows repeated on each page when repeat is above 0.
func (b *workbook) printing(sheet, area, orientation string, repeat int) error {
	a4, wide, tall := 9, 1, 0
	fit := true
	steps := []func() error{
		func() error {
			return b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &tall})
		},
		func() error { return b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}) },
		func() error {
			narrow, foot := 0.4, 0.6
			return b.file.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &narrow, Right: &narrow, Top: &narrow, Bottom: &foot})
		},
		func() error {
			return b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&8&A&R&8page &P of &N"})
		},
		func() error {
			return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: "'" + sheet + "'!" + area, Scope: sheet})
		},
	}
	if repeat > 0 {
		steps = append(steps, func() error {
			return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$1:$%d", sheet, repeat), Scope: sheet})
		})
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}
