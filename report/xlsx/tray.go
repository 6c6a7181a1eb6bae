package xlsx

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
)

// quantity is one that is drawn in the layout of a tray.
type quantity struct {
	title    string
	unit     string
	view     reading.View
	decimals int
	colour   string // of the largest value; the smallest is white
	pictured bool   // a picture of the plug that is typical by it is beside it
	of       func(report.PlugRow) reading.Number
}

// One hue each, light enough for black figures on it. Blue and orange stay apart for every kind of colour vision.
var trayQuantities = []quantity{
	{outcome.RootArea, "mm²", reading.Roots, 1, "#6BAED6", true, func(r report.PlugRow) reading.Number { return r.RootAreaMM2 }},
	{outcome.LeafArea, "mm²", reading.Shoots, 0, "#6BAED6", true, func(r report.PlugRow) reading.Number { return r.LeafAreaMM2 }},
	{outcome.RootBrowning, "%", reading.Roots, 1, "#FDAE6B", false, func(r report.PlugRow) reading.Number { return r.RootBrowningPct }},
	{outcome.Chlorotic, "%", reading.Shoots, 1, "#FDAE6B", false, func(r report.PlugRow) reading.Number { return r.ChloroticPct }},
}

// plugRowHigh is a row of plugs in points: three tables of five rows and their headings go on one page.
const plugRowHigh = 19.5

// traySheets makes a sheet for each tray, laid out like the tray seen from above, the last day first.
func (b *workbook) traySheets() error {
	trays := b.traysShown()
	pictures := b.typicalPictures(trays)
	for _, tray := range trays {
		if err := b.traySheet(tray, pictures); err != nil {
			return fmt.Errorf("tray %d: %w", tray, err)
		}
	}
	return nil
}

// traysShown are the trays that have a sheet.
func (b *workbook) traysShown() []int {
	var trays []int
	for _, r := range b.trial.Trays {
		trays = append(trays, r.Tray)
	}
	slices.Sort(trays)
	return slices.Compact(trays)
}

// traySheetName is short and without the characters that a sheet's name must not have, whatever the treatments are called.
func traySheetName(tray int) string { return fmt.Sprintf("Tray %d", tray) }

func (b *workbook) traySheet(tray int, pictures map[trayView]typicalPicture) error {
	f, sheet, shape := b.file, traySheetName(tray), b.trial.Plan.Tray
	columns := max(shape.Columns, 1)
	if err := f.SetColWidth(sheet, "A", "A", 5); err != nil {
		return err
	}
	if err := f.SetColWidth(sheet, "B", columnName(columns+1), 9); err != nil {
		return err
	}
	if err := f.SetColWidth(sheet, columnName(columns+2), columnName(columns+2), 3); err != nil {
		return err
	}
	if err := f.SetColWidth(sheet, columnName(columns+3), columnName(columns+3), pictureColumnWide); err != nil {
		return err
	}
	heading := sheet
	if name := b.trial.Plan.TreatmentOf(tray); name != "" {
		heading += " – " + name
	}
	if err := b.styled(sheet, "A1", heading, b.styles.title); err != nil {
		return err
	}
	if err := b.styled(sheet, "A2", "Not printed with the other sheets. To print it on one page, clear its print area.", b.styles.caption); err != nil {
		return err
	}
	row := 3
	for _, day := range b.daysOf(tray) {
		for _, q := range trayQuantities {
			photo, shot := b.photoOf(tray, day, q.view)
			if !shot || !(table.Rounded(b.mostOf(photo, q), q.decimals) > 0) { // a map without anything says nothing
				continue
			}
			top := row
			var err error
			if row, err = b.block(sheet, row, day, q, photo); err != nil {
				return err
			}
			if picture, have := pictures[trayView{day: day, tray: tray, view: q.view}]; have && q.pictured {
				if row, err = b.beside(sheet, columns+3, top, row, q, picture); err != nil {
					return err
				}
			}
		}
	}
	return b.printAs(sheet, printing{portrait: true, pages: 1})
}

// daysOf returns the days on which the tray was photographed, the last first. Undated photos are in the tables only.
func (b *workbook) daysOf(tray int) []int {
	var days []int
	for _, r := range b.trial.Trays {
		if r.Tray == tray && !r.Taken.IsZero() {
			days = append(days, r.Day)
		}
	}
	slices.Sort(days)
	days = slices.Compact(days)
	slices.Reverse(days)
	return days
}

// photoOf returns the photo that the tray's row on that day and in that view comes from.
func (b *workbook) photoOf(tray, day int, view reading.View) (photo string, ok bool) {
	for _, r := range b.trial.Trays {
		if r.Tray == tray && r.Day == day && r.View == view && !r.Taken.IsZero() {
			return r.Photo, true
		}
	}
	return "", false
}

// block draws one quantity on one day from row down and returns the row after it and a gap.
func (b *workbook) block(sheet string, row, day int, q quantity, photo string) (int, error) {
	shape := b.trial.Plan.Tray
	most := b.mostOn(day, q)
	if err := b.styled(sheet, cell(1, row), fmt.Sprintf("Day %d: %s (%s)", day, q.title, q.unit), b.styles.heading); err != nil {
		return 0, err
	}
	caption := "nothing measured; photo " + photo
	if most.Known() {
		caption = fmt.Sprintf("white is 0; full colour is %s %s, the highest value of the trial on that day; photo %s",
			table.Digits(most, q.decimals), q.unit, photo)
	}
	if err := b.styled(sheet, cell(1, row+1), caption, b.styles.caption); err != nil {
		return 0, err
	}
	head := row + 2
	for c := range shape.Columns {
		if err := b.styled(sheet, cell(c+2, head), strconv.Itoa(c+1), b.styles.corner); err != nil {
			return 0, err
		}
	}
	for r := range shape.Rows {
		if err := b.styled(sheet, cell(1, head+1+r), rowLetter(r), b.styles.corner); err != nil {
			return 0, err
		}
		if err := b.file.SetRowHeight(sheet, head+1+r, plugRowHigh); err != nil {
			return 0, err
		}
	}
	if err := b.blockPlugs(sheet, head, q, photo); err != nil {
		return 0, err
	}
	if shape.Rows > 0 && shape.Columns > 0 && most.Known() && most > 0 {
		area := cell(2, head+1) + ":" + cell(shape.Columns+1, head+shape.Rows)
		if err := b.file.SetConditionalFormat(sheet, area, []excelize.ConditionalFormatOptions{{
			Type: "2_color_scale", Criteria: "=", MinType: "num", MinValue: "0", MinColor: "#FFFFFF",
			MaxType: "num", MaxValue: table.Digits(most, q.decimals), MaxColor: q.colour,
		}}); err != nil {
			return 0, err
		}
	}
	return head + shape.Rows + 2, nil
}

// blockPlugs fills in the figures, or the word that takes their place.
func (b *workbook) blockPlugs(sheet string, head int, q quantity, photo string) error {
	shape := b.trial.Plan.Tray
	for r := range shape.Rows {
		if shape.Columns == 0 {
			break
		}
		if err := b.file.SetCellStyle(sheet, cell(2, head+1+r), cell(shape.Columns+1, head+1+r), b.styles.framed[q.decimals]); err != nil {
			return err
		}
	}
	for _, p := range b.plugsIn(photo) {
		if p.View != q.view {
			continue
		}
		r, c, ok := cellOf(p.Name, shape.Rows, shape.Columns)
		if !ok {
			continue
		}
		at := cell(c+2, head+1+r)
		if p.State != reading.Planted {
			if err := b.styled(sheet, at, string(p.State), b.styles.word); err != nil {
				return err
			}
			continue
		}
		if slices.Contains(p.Flags, report.NoPlant) {
			if err := b.styled(sheet, at, "no plant", b.styles.word); err != nil {
				return err
			}
			continue
		}
		if n := q.of(p); n.Known() {
			if err := b.put(sheet, at, table.Rounded(n, q.decimals)); err != nil {
				return err
			}
		}
	}
	return nil
}

// plugsIn returns the plugs of a photo.
func (b *workbook) plugsIn(photo string) []report.PlugRow {
	if b.byPhoto == nil {
		b.byPhoto = map[string][]report.PlugRow{}
		for _, p := range b.trial.Plugs {
			b.byPhoto[p.Photo] = append(b.byPhoto[p.Photo], p)
		}
	}
	return b.byPhoto[photo]
}

// mostOf returns the largest value of a plant in one photo.
func (b *workbook) mostOf(photo string, q quantity) reading.Number {
	most := reading.Missing
	for _, p := range b.plugsIn(photo) {
		if n := q.of(p); p.View == q.view && p.Counts() && n.Known() && !(n <= most) {
			most = n
		}
	}
	return most
}

// mostOn returns the largest value of a plant on that day over all trays, so that trays can be compared by shade.
func (b *workbook) mostOn(day int, q quantity) reading.Number {
	key := fmt.Sprint(day, q.title)
	most, known := b.most[key]
	if known {
		return most
	}
	most = reading.Missing
	for _, p := range b.trial.Plugs {
		if n := q.of(p); p.View == q.view && p.Day == day && p.Counts() && n.Known() && !(n <= most) {
			most = n
		}
	}
	if b.most == nil {
		b.most = map[string]reading.Number{}
	}
	b.most[key] = most
	return most
}

// cellOf returns the row and column of a plug, both from 0. A loose plug has no place in a tray.
func cellOf(name string, rows, columns int) (row, column int, ok bool) {
	letters, number := report.SplitPlugName(name)
	for r := range rows {
		if rowLetter(r) == letters && number >= 1 && number <= columns {
			return r, number - 1, true
		}
	}
	return 0, 0, false
}

// rowLetter is A for row 0. Rows beyond Z go on with AA.
func rowLetter(row int) string {
	name, err := excelize.ColumnNumberToName(row + 1) // spreadsheets count their columns the way a tray counts its rows
	if err != nil {
		return "?"
	}
	return name
}

func (b *workbook) styled(sheet, at, words string, style int) error {
	if err := b.put(sheet, at, words); err != nil {
		return err
	}
	return b.file.SetCellStyle(sheet, at, at, style)
}
