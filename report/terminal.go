package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// summaryColumns are what the terminal shows of a tray: narrower than trays.csv, rounded as people read it.
var summaryColumns = []table.Column[trayfigure.TrayDay]{
	{Title: "day", Number: func(d trayfigure.TrayDay) reading.Number { return table.Count(d.Day) }},
	{Title: "tray", Number: func(d trayfigure.TrayDay) reading.Number { return table.Count(d.Tray) }},
	{Title: "treatment", Text: func(d trayfigure.TrayDay) string { return d.Treatment }},
	{Title: "plants", Text: standWords},
	{Title: "root mm²", Text: func(d trayfigure.TrayDay) string { return AmountWords(d, outcome.RootArea) }},
	{Title: "leaf mm²", Text: func(d trayfigure.TrayDay) string { return AmountWords(d, outcome.LeafArea) }},
	{Title: "yellow %", Text: func(d trayfigure.TrayDay) string { return AmountWords(d, outcome.Chlorotic) }},
	{Title: "brown %", Text: func(d trayfigure.TrayDay) string { return AmountWords(d, outcome.RootBrowning) }},
	{Title: "concerns", Text: func(d trayfigure.TrayDay) string {
		var kinds []string
		for _, r := range []reading.Reading{d.RootsPhoto, d.LeavesPhoto} {
			for _, c := range r.Concerns {
				kinds = append(kinds, c.Kind)
			}
		}
		return strings.Join(kinds, ", ")
	}},
}

// standWords says how many plugs hold a plant.
func standWords(d trayfigure.TrayDay) string {
	if d.Plugs == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d", d.Plants, d.Plugs)
}

// WriteSummary writes a table of the trays for a terminal. Figures are means over a tray's plants, ± their expanded uncertainty.
func WriteSummary(w io.Writer, t *Trial) error {
	rows := [][]string{make([]string, len(summaryColumns))}
	for i, c := range summaryColumns {
		rows[0][i] = c.Title
	}
	for _, r := range t.Days {
		row := make([]string, len(summaryColumns))
		for i, c := range summaryColumns {
			row[i] = Printable(c.Show(r))
		}
		rows = append(rows, row)
	}
	wide := make([]int, len(summaryColumns))
	for _, row := range rows {
		for i, text := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(text))
		}
	}
	var out strings.Builder
	for _, row := range rows {
		line := ""
		for i, text := range row {
			gap := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(text))
			if summaryColumns[i].Number != nil {
				line += gap + text + "  "
			} else {
				line += text + gap + "  "
			}
		}
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// Printable replaces what a name might do to a terminal: line ends, commands, marks that turn the reading direction.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// TrayRecords returns the rows of trays.csv by column name, for JSON.
func TrayRecords(t *Trial) []map[string]any { return recordsOf(TrayColumns, t.Days) }

// recordsOf returns a table's rows by column name: numbers with the digits of the CSV, nil for what is missing.
func recordsOf[Row any](columns []table.Column[Row], rows []Row) []map[string]any {
	records := []map[string]any{} // never nil: a list in JSON
	for _, r := range rows {
		record := map[string]any{}
		for _, c := range columns {
			switch text := c.Show(r); {
			case c.Text != nil:
				record[c.Name] = text
			case text == "":
				record[c.Name] = nil
			default:
				record[c.Name] = json.Number(text)
			}
		}
		records = append(records, record)
	}
	return records
}

// UnusedPhoto is a photo that could not be used.
type UnusedPhoto struct {
	Photo string `json:"photo"`
	Why   string `json:"why"` // with what to do about it
}

// UnusedPhotos gives the reason for each photo that could not be used.
func UnusedPhotos(t *Trial) []UnusedPhoto {
	list := []UnusedPhoto{}
	for _, r := range t.Unused {
		list = append(list, UnusedPhoto{r.Photo, whyUnused(r)})
	}
	return list
}
