package xlsx

import (
	"fmt"
	"regexp"
	"slices"

	"github.com/xuri/excelize/v2"

	"traygauge/report/table"
)

// fillTable writes rows below one header row that stays in view and can be filtered. The first printed columns go on
// paper, none of notPrinted. The sheet must be there and empty, and nothing may be done to it afterwards: long tables go past memory, into the file
// as they come.
func fillTable[Row any](b *workbook, sheet string, columns []table.Column[Row], rows []Row, printed int) error {
	last := len(rows) + 1
	if err := b.file.AutoFilter(sheet, "A1:"+cell(len(columns), last), nil); err != nil {
		return err
	}
	paper := printing{heads: 1}
	if printed != notPrinted {
		paper = printing{area: areaOf(printed, min(last, rowsPrinted+1)), pages: 1, heads: 1}
	}
	if err := b.printAs(sheet, paper); err != nil {
		return err
	}
	s, err := b.rowsOf(sheet)
	if err != nil {
		return err
	}
	for i, c := range columns {
		if err := s.SetColWidth(i+1, i+1, wideEnough(c.Title, c.Width)); err != nil {
			return err
		}
	}
	if err := s.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft",
		Selection: []excelize.Selection{{SQRef: "A2", ActiveCell: "A2", Pane: "bottomLeft"}}}); err != nil {
		return err
	}
	line := make([]any, len(columns))
	headLines := 1
	for i, c := range columns {
		headLines = max(headLines, headLinesOf(c.Title, wideEnough(c.Title, c.Width)))
		head := b.styles.head
		if c.Number != nil {
			head = b.styles.headNumber
		}
		line[i] = excelize.Cell{StyleID: head, Value: c.Title}
	}
	if err := s.SetRow("A1", line, excelize.RowOpts{Height: heightOf(headLines)}); err != nil {
		return err
	}
	for k, r := range rows {
		lines := 1
		for i, c := range columns {
			style, content := b.columnStyle(c.Name, c.Text != nil, c.ShownDecimals()), contentOf(c, r)
			if text, is := content.(string); is {
				if style == b.styles.textWrapped {
					lines = max(lines, linesOf(text, c.Width))
				}
				if text == "" {
					content = nil // blank
				}
			}
			line[i] = excelize.Cell{StyleID: style, Value: content}
		}
		if err := s.SetRow(cell(1, k+2), line, excelize.RowOpts{Height: heightOf(min(lines, mostLines))}); err != nil {
			return err
		}
	}
	return s.Flush()
}

// mostHeadLines is how high a table's head may be: a column with a longer title is made wider.
const mostHeadLines = 5

func wideEnough(title string, width float64) float64 {
	for headLinesOf(title, width) > mostHeadLines {
		width++
	}
	return width
}

// headLinesOf is linesOf beside the filter's button.
func headLinesOf(title string, width float64) int { return linesOf(title, width-3) }

// rowsPrinted is how many rows of a table are on paper: a page of them. The rest is for the screen, or for whoever clears the print area.
const rowsPrinted = 30

// notPrinted instead of a number of columns keeps a table off paper.
const notPrinted = 0

// tableWriter is what a table is written with: excelize's stream, or cells.
type tableWriter interface {
	SetColWidth(first, last int, width float64) error
	SetPanes(*excelize.Panes) error
	SetRow(at string, values []any, opts ...excelize.RowOpts) error
	Flush() error
}

// rowsOf returns the writer for a sheet. Only one sheet is streamed, the one with a row a plug: of several excelize writes the parts in
// the order of a map, and the same trial must give the same bytes.
func (b *workbook) rowsOf(sheet string) (tableWriter, error) {
	if sheet == allPlugsSheet {
		return b.file.NewStreamWriter(sheet)
	}
	return cellWriter{b, sheet}, nil
}

// cellWriter writes a table cell by cell.
type cellWriter struct {
	b     *workbook
	sheet string
}

func (w cellWriter) SetColWidth(first, last int, width float64) error {
	return w.b.file.SetColWidth(w.sheet, columnName(first), columnName(last), width)
}

func (w cellWriter) SetPanes(p *excelize.Panes) error { return w.b.file.SetPanes(w.sheet, p) }

func (w cellWriter) Flush() error { return nil }

// SetRow writes cells, each an excelize.Cell, from the cell at to the right.
func (w cellWriter) SetRow(at string, values []any, opts ...excelize.RowOpts) error {
	column, row, err := excelize.CellNameToCoordinates(at)
	if err != nil {
		return err
	}
	for i, v := range values {
		c, ok := v.(excelize.Cell)
		if !ok {
			return fmt.Errorf("%T is no cell", v)
		}
		if err := w.b.put(w.sheet, cell(column+i, row), c.Value); err != nil {
			return err
		}
		if err := w.b.file.SetCellStyle(w.sheet, cell(column+i, row), cell(column+i, row), c.StyleID); err != nil {
			return err
		}
	}
	for _, o := range opts {
		if err := w.b.file.SetRowHeight(w.sheet, row, o.Height); err != nil {
			return err
		}
	}
	return nil
}

// mostLines of a row are shown; the rest of a long text is in its cell.
const mostLines = 4

// columnName is "A" for 1.
func columnName(column int) string {
	name, err := excelize.ColumnNumberToName(column)
	if err != nil {
		return "A" // only for numbers below 1, which no caller gives
	}
	return name
}

// contentOf returns what a cell holds: a string, a float64, or nil for blank.
func contentOf[Row any](c table.Column[Row], r Row) any {
	if c.Text != nil {
		return c.Text(r)
	}
	n := c.Number(r)
	if !n.Known() {
		return nil
	}
	return table.Rounded(n, c.Decimals)
}

// escaped is how a spreadsheet's text holds a character by its number (ISO/IEC 29500-1, 22.9.2.19, ST_Xstring). A name that happens to
// look like that is not one: its underscore goes by its own number. excelize does so in streams but not in cells.
var escaped = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// put writes a string as text, so that none is taken for a formula, and nothing for nil or "".
func (b *workbook) put(sheet, at string, content any) error {
	switch v := content.(type) {
	case string:
		if v == "" {
			return nil
		}
		return b.file.SetCellStr(sheet, at, escaped.ReplaceAllString(v, "_x005F$0"))
	case float64:
		return b.file.SetCellFloat(sheet, at, v, -1, 64)
	}
	return nil
}

func (b *workbook) columnStyle(name string, text bool, decimals int) int {
	switch {
	case slices.Contains([]string{"concerns", "treatment", "control", "remarks"}, name):
		return b.styles.textWrapped
	case text:
		return b.styles.text
	}
	return b.styles.number[decimals]
}

// cell names a cell by column and row, both from 1.
func cell(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return "A1" // only for numbers below 1, which no caller gives
	}
	return name
}
