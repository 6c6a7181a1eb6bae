package xlsx

import (
	"traygauge/report"
)

const methodWordsWide = 92.0 // characters

// comparisonWords say what is on the sheets about comparisons, in the charts and beside the pictures.
var comparisonWords = []report.Definition{
	{Quantity: "a tray’s figure", Unit: "as its quantity", Words: "Mean over the plants of the tray. Treatments are given to trays, so trays are compared, not plugs."},
	{Quantity: "treatment, mean", Unit: "as its quantity", Words: "Mean over the trays of the treatment: the geometric mean if treatments are compared by ratio, the arithmetic mean if by difference."},
	{Quantity: "ratio", Unit: "×", Words: "Treatment divided by control; 1 is no difference. Used for sizes, because growth multiplies."},
	{Quantity: "difference", Unit: "percentage points, or the unit", Words: "Treatment minus control; 0 is no difference. Used for shares, hues and growth rates. Differences of shares are in percentage points, those of growth rates in percentage points a day."},
	{Quantity: "95 % interval", Unit: "unit of the figure", Words: "In about 95 of 100 such trials, all intervals against one control contain the true ratios or differences. With one tray per treatment, the interval is about these trays only."},
	{Quantity: "p, adjusted", Unit: "0 to 1", Words: "How often chance alone would produce a difference at least as large if the treatment had no effect, adjusted for all treatments with the same control."},
	{Quantity: "verdict", Unit: "", Words: "more, less: the interval excludes no difference. unclear: the interval includes no difference. these trays only: one tray per treatment, so no conclusion about treatments. " +
		"not compared: a figure is missing; the text beside it says which."},
	{Quantity: "charts", Unit: "", Words: "Bars of ratios are 95 % intervals. In charts by treatment, each dot is a tray. The dots show how much trays treated alike differ, not how certain a " +
		"difference is. The data of the charts are on the sheet “" + chartSheet + "”."},
	{Quantity: "printing", Unit: "", Words: "The whole workbook prints on fewer than ten pages: the result, growth and colour, the first 30 rows of all trays, and the method. To print another sheet, " +
		"or all of a table, open that sheet and clear its print area: in Excel Page Layout, Print Area, Clear Print Area; in LibreOffice Format, Print Ranges, Clear. A tray’s " +
		"sheet takes one page."},
	{Quantity: "typical plug", Unit: "", Words: "The plug with the root area (in views from above, the leaf area) nearest to the median of its tray, not the best one. All pictures of one view have the same scale."},
}

// method writes what the figures mean, how they came about and what they cannot show.
func (b *workbook) method() error {
	for column, width := range map[string]float64{"A": 25, "B": 15, "C": methodWordsWide} {
		if err := b.file.SetColWidth(methodSheet, column, column, width); err != nil {
			return err
		}
	}
	s := &methodWriter{b: b, row: 1}
	s.line("What was measured, and how", "", "", b.styles.title)
	s.part("Quantities")
	for _, d := range report.Definitions {
		s.line(d.Quantity, d.Unit, d.Words, b.styles.wrapped)
	}
	s.part("Comparisons")
	for _, d := range comparisonWords {
		s.line(d.Quantity, d.Unit, d.Words, b.styles.wrapped)
	}
	s.part("Words")
	for _, d := range report.States {
		s.line(d.Quantity, d.Unit, d.Words, b.styles.wrapped)
	}
	s.part("Settings")
	for _, p := range report.SettingsOf(b.trial) {
		s.line(p.Heading, "", p.Words, b.styles.wrapped)
	}
	if corrections := report.CorrectionsOf(b.trial); len(corrections) > 0 {
		s.part("Corrected by hand")
		for _, c := range corrections {
			s.line(c.Heading, "", c.Words, b.styles.wrapped)
		}
	}
	s.part("What this trial cannot show")
	for _, words := range report.LimitsOf(b.trial) {
		s.line("", "", words, b.styles.wrapped)
	}
	s.part("Cautions")
	for _, words := range report.ResultCautions(b.trial.Public) {
		s.line("", "", words, b.styles.wrapped)
	}
	if len(b.trial.Unused) > 0 {
		s.part("Photos not used")
		for _, p := range report.UnusedPhotos(b.trial) {
			s.line(p.Photo, "", p.Why, b.styles.wrapped)
		}
	}
	if s.err != nil {
		return s.err
	}
	return b.printAs(methodSheet, printing{area: areaOf(3, s.row-1), pages: methodPages})
}

// methodWriter writes lines downwards and keeps the first error.
type methodWriter struct {
	b   *workbook
	row int
	err error
}

func (s *methodWriter) part(heading string) {
	s.row++
	s.line(heading, "", "", s.b.styles.heading)
}

func (s *methodWriter) line(name, unit, words string, style int) {
	for i, text := range []string{name, unit, words} {
		if text != "" && s.err == nil {
			s.err = s.b.styled(methodSheet, cell(i+1, s.row), text, style)
		}
	}
	if lines := max(linesOf(words, methodWordsWide), linesOf(unit, 13)); s.err == nil && style == s.b.styles.wrapped {
		s.err = s.b.file.SetRowHeight(methodSheet, s.row, heightOf(max(lines, linesOf(name, 23)))) // a program that opens the file does not always do it
	}
	s.row++
}
