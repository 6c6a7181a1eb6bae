package xlsx

import (
	"fmt"
	"slices"

	"github.com/xuri/excelize/v2"
)

// On paper the whole workbook takes fewer than ten pages, however large the trial: the result at most resultPages, growth and colour one, the trays' table
// one, the method two. Everything else is for the screen; its print area is one empty cell, which prints as no page. A sheet
// whose print area is cleared prints as it is set up here, a tray's on one page.
const (
	resultPages = 5
	methodPages = 2
)

// printing is how a sheet goes on A4 paper, as wide as the page.
type printing struct {
	area     string // "" for a sheet that is not printed with the others
	portrait bool
	pages    int // at most, 0 for as many as it takes
	heads    int // rows repeated on each page
}

// untouched is a cell that no sheet reaches, and the print area of what is not printed: a spreadsheet leaves empty pages out.
const untouched = "$ZZ$1"

// printAs sets a sheet up for paper.
func (b *workbook) printAs(sheet string, p printing) error {
	a4, wide, orientation := 9, 1, "landscape"
	if p.portrait {
		orientation = "portrait"
	}
	if p.area == "" {
		p.area = untouched
	}
	fit := true
	steps := []func() error{
		func() error {
			return b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &p.pages})
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
			return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: "'" + sheet + "'!" + p.area, Scope: sheet})
		},
	}
	if p.heads > 0 {
		steps = append(steps, func() error {
			return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$1:$%d", sheet, p.heads), Scope: sheet})
		})
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// areaOf is a print area from A1 to a column and row.
func areaOf(columns, rows int) string {
	return fmt.Sprintf("$A$1:$%s$%d", columnName(columns), max(rows, 1))
}

// pageLines is how many rows of 15 points are sure to fit on a page of the front sheet: A4 lying, 523 points high within its margins
// and 784 wide, on which the columns, 934 points wide, are made smaller by 0.84.
const pageLines = 40

// paper is what is known of how a sheet of many rows falls into pages.
type paper struct {
	tops []int       // the rows that begin a page, page breaks
	tall map[int]int // how many lines a row takes that takes more than one
}

func newPaper() paper { return paper{tops: []int{1}, tall: map[int]int{}} }

func (p paper) begins(row int) bool { return row == p.tops[len(p.tops)-1] }

// at returns the page, from 1, that a row begins on if it takes one line, and how many lines of it are above the row.
func (p paper) at(row int) (page, used int) {
	page = 1
	for r := 1; r < row; r++ {
		lines := max(1, p.tall[r])
		if r > 1 && slices.Contains(p.tops, r) || used+lines > pageLines {
			page, used = page+1, 0
		}
		used += lines
	}
	if row > 1 && p.begins(row) || used >= pageLines {
		return page + 1, 0
	}
	return page, used
}

// last returns the last row on paper of a sheet with so many: its own last, or the one with which resultPages are full.
func (p paper) last(rows int) int {
	for rows > 1 {
		if page, _ := p.at(rows); page <= resultPages {
			break
		}
		rows--
	}
	return rows
}
