// Package xlsx writes a trial as a workbook: the answer with charts first, then tables, the method, and a sheet for each tray.
//
//	in    a report.Trial, its comparisons and a way to get pictures of plugs
//	out   trial.xlsx, the same bytes for the same trial, with the same numbers as the CSV files
//
// It must not depend on readings, photos or folders, or on what is private. Only report/table and measure/compare round numbers.
package xlsx

import (
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
)

// The workbook's sheets beside the front sheet, the charts' data and one per tray.
const (
	comparisonsSheet = "Comparisons"
	allTraysSheet    = "All trays"
	allPlugsSheet    = "All plugs"
	conditionSheet   = "Growth and colour"
	methodSheet      = "Method"
)

// Options say what goes into the workbook beside the trial's tables. The zero value works.
type Options struct {
	Compared *outcome.Result // nil: nothing is compared
	// Crops returns pictures of plugs, as report.Crops does; nil: no pictures.
	Crops func([]report.PlugRow, report.CropSize) [][]byte
}

// Write writes trial.xlsx: the result with charts, all comparisons, all trays, all plugs, the method, the charts' data, and
// a sheet per tray laid out like the tray. Its numbers are the CSV files' numbers. What is missing is a blank cell. It shows
// what it is given and nothing else: of a trial made of report.Publishable's plan and readings it shows what may be public.
func Write(w io.Writer, t *report.Trial, o Options) error {
	b, err := newWorkbook(t, o)
	if err != nil {
		return fmt.Errorf("cannot make the workbook: %w", err)
	}
	defer b.file.Close()
	// The first picture makes excelize list all kinds of picture, in the order of a map.
	kinds := b.file.ContentTypes.Defaults
	for i := range kinds {
		for k := i; k > 0 && kinds[k].Extension < kinds[k-1].Extension; k-- {
			kinds[k], kinds[k-1] = kinds[k-1], kinds[k]
		}
	}
	if err := b.file.Write(w); err != nil {
		return fmt.Errorf("cannot write the workbook: %w", err)
	}
	return nil
}

// workbook is a spreadsheet in the making.
type workbook struct {
	file    *excelize.File
	styles  styles
	formats map[string]int // number styles by their format
	trial   *report.Trial
	o       Options
	charts  int // drawn so far

	byPhoto map[string][]report.PlugRow // see plugsIn
	most    map[string]reading.Number   // see mostOn
}

// newWorkbook returns the filled workbook; the caller closes its file.
func newWorkbook(t *report.Trial, o Options) (*workbook, error) {
	b := &workbook{file: excelize.NewFile(), formats: map[string]int{}, trial: t, o: o}
	var charts []plot
	steps := []func() error{
		b.makeStyles,
		b.makeSheets,
		func() (err error) { charts, err = b.chartData(); return err },
		func() error { return b.front(charts) },
		b.traySheets,
		b.method,
		b.properties,
		func() error {
			return fillTable(b, comparisonsSheet, comparisonColumns(), b.compared().Comparisons, notPrinted)
		},
		func() error { return fillTable(b, allTraysSheet, trayColumns(), t.Days, len(traysOnPaper)) },
		func() error {
			return fillTable(b, conditionSheet, conditionColumns, b.compared().On(b.compared().LastDay).Trays, len(conditionColumns))
		},
		func() error { return fillTable(b, allPlugsSheet, report.PlugColumns, t.Plugs, notPrinted) },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			b.file.Close()
			return nil, err
		}
	}
	return b, nil
}

// makeSheets makes all sheets in the order in which they are turned over. No name that people chose is in a sheet's name, so that
// none can be too long, the same twice, or hold a character that a sheet's name must not have.
func (b *workbook) makeSheets() error {
	if err := b.file.SetSheetName("Sheet1", frontSheet); err != nil {
		return err
	}
	names := []string{conditionSheet, comparisonsSheet, allTraysSheet, allPlugsSheet, methodSheet, chartSheet}
	for _, tray := range b.traysShown() {
		names = append(names, traySheetName(tray))
	}
	for _, name := range names {
		if _, err := b.file.NewSheet(name); err != nil {
			return err
		}
	}
	b.file.SetActiveSheet(0)
	return nil
}

// conditionColumns are those of the trays' growth and colour, each beside its control on the same day.
var conditionColumns = []table.Column[outcome.TrayGrowth]{
	{Name: "day", Title: "day (since sowing)", Width: 8, Number: func(g outcome.TrayGrowth) reading.Number { return table.Count(g.Day) }},
	{Name: "tray", Title: "tray (number)", Width: 8, Number: func(g outcome.TrayGrowth) reading.Number { return table.Count(g.Tray) }},
	{Name: "treatment", Title: "treatment", Width: 22, Text: func(g outcome.TrayGrowth) string { return g.Treatment }},
	{Name: "control", Title: "against", Width: 22, Text: func(g outcome.TrayGrowth) string { return g.Control }},
	{Name: "root_area_ratio", Title: "root area (× of the control)", Width: 11, Decimals: 2, Number: func(g outcome.TrayGrowth) reading.Number { return g.RootRatio }},
	{Name: "leaf_area_ratio", Title: "leaf area (× of the control)", Width: 11, Decimals: 2, Number: func(g outcome.TrayGrowth) reading.Number { return g.LeafRatio }},
	{Name: "chlorotic_pct", Title: "yellow leaf share (%)", Width: 10, Decimals: 1, Number: func(g outcome.TrayGrowth) reading.Number { return g.ChloroticPct }},
	{Name: "chlorotic_points_above_control", Title: "above the control (points)", Width: 11, Decimals: 1, Number: func(g outcome.TrayGrowth) reading.Number { return g.ChloroticOff }},
	{Name: "root_browning_pct", Title: "brown root share (%)", Width: 10, Decimals: 1, Number: func(g outcome.TrayGrowth) reading.Number { return g.BrowningPct }},
	{Name: "root_browning_points_above_control", Title: "above the control (points)", Width: 11, Decimals: 1, Number: func(g outcome.TrayGrowth) reading.Number { return g.BrowningOff }},
	{Name: "concerns", Title: "condition", Width: 34, Text: func(g outcome.TrayGrowth) string { return string(g.Growing) }},
	{Name: "remarks", Title: "why", Width: 40, Text: func(g outcome.TrayGrowth) string { return g.Why }},
}

// leading returns the columns with those named first; both parts keep their order.
func leading[Row any](columns []table.Column[Row], names []string) []table.Column[Row] {
	var first, rest []table.Column[Row]
	for _, c := range columns {
		if slices.Contains(names, c.Name) {
			first = append(first, c)
		} else {
			rest = append(rest, c)
		}
	}
	return append(first, rest...)
}

// comparisonColumns are report.ComparisonColumns in the order that suits a screen and paper: the answer first, what it rests on after it.
func comparisonColumns() []table.Column[outcome.Comparison] {
	return leading(report.ComparisonColumns, comparisonsFirst)
}

var comparisonsFirst = []string{"day", "quantity", "unit", "treatment", "control", "treatment_mean", "control_mean", "ratio", "ratio_lower_95", "ratio_upper_95",
	"difference", "difference_lower_95", "difference_upper_95", "p_adjusted", "compared_by", "verdict", "treatment_trays", "control_trays"}

// trayColumns are report.TrayColumns in the order that suits a screen and paper: what was found first, what it rests on after it.
func trayColumns() []table.Column[trayfigure.TrayDay] {
	return leading(report.TrayColumns, traysOnPaper)
}

// traysOnPaper are the columns that are printed; those behind them are for the screen.
var traysOnPaper = []string{"day", "tray", "treatment", "position", "plugs_n", "plants_n", "root_area_mean_mm2", "root_area_mean_u_mm2", "root_browning_mean_pct",
	"leaf_area_mean_mm2", "leaf_area_mean_u_mm2", "canopy_cover_pct", "chlorotic_mean_pct"}

// properties names the workbook as ours. Its dates come from the data, so that the same trial gives the same bytes.
func (b *workbook) properties() error {
	title := b.trial.Plan.Title
	if title == "" {
		title = "Trial"
	}
	date := report.FileDate(b.trial.Plan)
	for _, r := range b.trial.Trays {
		if r.Taken.After(date) {
			date = r.Taken.UTC()
		}
	}
	if b.trial.Public {
		date = report.ToTheDay(date, time.UTC)
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
