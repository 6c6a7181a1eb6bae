package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure"
	"traygauge/measure/compare"
)

// summaryColumns are what the terminal shows of a tray: narrower than trays.csv, rounded as people read it.
var summaryColumns = []column[compare.TrayDay]{
	{title: "day", number: func(d compare.TrayDay) measure.Number { return count(d.Day) }},
	{title: "tray", number: func(d compare.TrayDay) measure.Number { return count(d.Tray) }},
	{title: "treatment", text: func(d compare.TrayDay) string { return d.Treatment }},
	{title: "plants", text: standWords},
	{title: "root mm²", text: func(d compare.TrayDay) string { return amountWords(d, compare.RootArea) }},
	{title: "leaf mm²", text: func(d compare.TrayDay) string { return amountWords(d, compare.LeafArea) }},
	{title: "yellow %", text: func(d compare.TrayDay) string { return amountWords(d, compare.Chlorotic) }},
	{title: "brown %", text: func(d compare.TrayDay) string { return amountWords(d, compare.RootBrowning) }},
	{title: "concerns", text: func(d compare.TrayDay) string {
		var kinds []string
		for _, r := range []measure.Reading{d.RootsPhoto, d.LeavesPhoto} {
			for _, c := range r.Concerns {
				kinds = append(kinds, c.Kind)
			}
		}
		return strings.Join(kinds, ", ")
	}},
}

// standWords says how many plugs hold a plant.
func standWords(d compare.TrayDay) string {
	if d.Plugs == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d", d.Plants, d.Plugs)
}

// WriteSummary writes a table of the trays for a terminal. Figures are means over a tray's plants, ± their expanded uncertainty.
func WriteSummary(w io.Writer, t *Trial) error {
	rows := [][]string{make([]string, len(summaryColumns))}
	for i, c := range summaryColumns {
		rows[0][i] = c.title
	}
	for _, r := range t.Days {
		row := make([]string, len(summaryColumns))
		for i, c := range summaryColumns {
			row[i] = printable(c.show(r))
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
			if summaryColumns[i].number != nil {
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

// printable replaces what a name might do to a terminal: line ends, commands, marks that turn the reading direction.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// TrayRecords returns the rows of trays.csv by column name, for JSON.
func TrayRecords(t *Trial) []map[string]any { return recordsOf(trayColumns, t.Days) }

// recordsOf returns a table's rows by column name: numbers with the digits of the CSV, nil for what is missing.
func recordsOf[Row any](columns []column[Row], rows []Row) []map[string]any {
	records := []map[string]any{} // never nil: a list in JSON
	for _, r := range rows {
		record := map[string]any{}
		for _, c := range columns {
			switch text := c.show(r); {
			case c.text != nil:
				record[c.name] = text
			case text == "":
				record[c.name] = nil
			default:
				record[c.name] = json.Number(text)
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
