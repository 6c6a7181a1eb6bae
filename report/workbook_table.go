package report

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// fillTable writes rows below one header row that stays in view and can be filtered. The first printed columns go on
// paper. The sheet is made when it does not exist.
func fillTable[Row any](b *workbook, sheet string, columns []column[Row], rows []Row, printed int) error {
	f := b.file
	if _, err := f.NewSheet(sheet); err != nil {
		return err
	}
	for i, c := range columns {
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(sheet, name, name, c.width); err != nil {
			return err
		}
		if err := f.SetCellStr(sheet, cell(i+1, 1), c.title); err != nil {
			return err
		}
		head := b.styles.head
		if c.number != nil {
			head = b.styles.headNumber
		}
		if err := f.SetCellStyle(sheet, cell(i+1, 1), cell(i+1, 1), head); err != nil {
			return err
		}
	}
	last := len(rows) + 1
	if err := f.SetRowHeight(sheet, 1, 68); err != nil {
		return err
	}
	for i, c := range columns {
		for k, r := range rows {
			if err := b.put(sheet, cell(i+1, k+2), contentOf(c, r)); err != nil {
				return err
			}
		}
		if len(rows) > 0 {
			if err := f.SetCellStyle(sheet, cell(i+1, 2), cell(i+1, last), b.columnStyle(c.name, c.text != nil, c.decimals)); err != nil {
				return err
			}
		}
	}
	if err := f.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft",
		Selection: []excelize.Selection{{SQRef: "A2", ActiveCell: "A2", Pane: "bottomLeft"}}}); err != nil {
		return err
	}
	if err := f.AutoFilter(sheet, "A1:"+cell(len(columns), last), nil); err != nil {
		return err
	}
	right, err := excelize.ColumnNumberToName(printed)
	if err != nil {
		return err
	}
	return b.printing(sheet, fmt.Sprintf("$A$1:$%s$%d", right, last), "landscape", 1)
}

// contentOf returns what a cell holds: a string, a float64, or nil for blank.
func contentOf[Row any](c column[Row], r Row) any {
	if c.text != nil {
		return c.text(r)
	}
	n := c.number(r)
	if !n.Known() {
		return nil
	}
	return rounded(n, c.decimals)
}

// put writes a string as text, so that none is taken for a formula, and nothing for nil or "".
func (b *workbook) put(sheet, at string, content any) error {
	switch v := content.(type) {
	case string:
		if v == "" {
			return nil
		}
		return b.file.SetCellStr(sheet, at, v)
	case float64:
		return b.file.SetCellFloat(sheet, at, v, -1, 64)
	}
	return nil
}

func (b *workbook) columnStyle(name string, text bool, decimals int) int {
	switch {
	case name == "concerns" || name == "treatment":
		return b.styles.wrapped
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
