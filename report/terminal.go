package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure"
)

// summaryColumns are what the terminal shows of a tray: narrower than trays.csv, rounded the same way.
var summaryColumns = []column[TrayRow]{
	{title: "day", number: func(r TrayRow) measure.Number { return r.dayNumber() }},
	{title: "tray", number: func(r TrayRow) measure.Number { return count(r.Tray) }},
	{title: "treatment", text: func(r TrayRow) string { return r.Treatment }},
	{title: "view", text: func(r TrayRow) string { return r.View }},
	{title: "stand", text: func(r TrayRow) string { return fmt.Sprintf("%d of %d", r.Planted, r.Planted+r.Empty) }},
	{title: "root mm²", decimals: areaDecimals, number: func(r TrayRow) measure.Number { return r.RootAreaMM2.Mean }},
	{title: "leaf mm²", decimals: areaDecimals, number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.Mean }},
	{title: "CV %", decimals: pctDecimals, number: func(r TrayRow) measure.Number {
		if r.View == "roots" {
			return r.RootAreaMM2.CVPct()
		}
		return r.LeafAreaMM2.CVPct()
	}},
	{title: "yellow %", decimals: pctDecimals, number: func(r TrayRow) measure.Number { return r.MedianChlorotic }},
	{title: "brown %", decimals: pctDecimals, number: func(r TrayRow) measure.Number { return r.MedianBrowning }},
	{title: "concerns", text: func(r TrayRow) string {
		var kinds []string
		for _, c := range r.Concerns {
			kinds = append(kinds, c.Kind)
		}
		return strings.Join(kinds, ", ")
	}},
}

// WriteSummary writes a table of the trays for a terminal. Areas are means over a tray's plugs.
func WriteSummary(w io.Writer, t *Trial) error {
	rows := [][]string{make([]string, len(summaryColumns))}
	for i, c := range summaryColumns {
		rows[0][i] = c.title
	}
	for _, r := range t.Trays {
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

// TrayRecords returns the rows of trays.csv by column name, for JSON: numbers with the digits of the CSV, nil for what is
// missing.
func TrayRecords(t *Trial) []map[string]any {
	records := []map[string]any{} // never nil: a list in JSON
	for _, r := range t.Trays {
		record := map[string]any{}
		for _, c := range trayColumns {
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

// UnusedPhoto is a photo that gave nothing to report.
type UnusedPhoto struct {
	Photo string `json:"photo"`
	Why   string `json:"why"` // with what to do about it
}

// UnusedPhotos says of each photo that gave nothing to report why.
func UnusedPhotos(t *Trial) []UnusedPhoto {
	list := []UnusedPhoto{}
	for _, r := range t.Unused {
		list = append(list, UnusedPhoto{r.Photo, whyUnused(r)})
	}
	return list
}
