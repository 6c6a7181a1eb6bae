package report

import (
	"encoding/csv"
	"io"
	"strings"

	"traygauge/measure/wording"
	"traygauge/report/table"
)

// WritePlugsCSV writes plugs.csv: one row a plug and photo.
func WritePlugsCSV(w io.Writer, t *Trial) error { return writeCSV(w, PlugColumns, t.Plugs) }

// WritePhotosCSV writes photos.csv: one row a photo that could be measured.
func WritePhotosCSV(w io.Writer, t *Trial) error { return writeCSV(w, photoColumns, t.Photos) }

// WriteTraysCSV writes trays.csv: one row a tray and day.
func WriteTraysCSV(w io.Writer, t *Trial) error { return writeCSV(w, TrayColumns, t.Days) }

func writeCSV[Row any](w io.Writer, columns []table.Column[Row], rows []Row) error {
	out := csv.NewWriter(w)
	record := make([]string, len(columns))
	for i, c := range columns {
		record[i] = c.Name
	}
	if err := out.Write(record); err != nil {
		return err
	}
	for _, r := range rows {
		for i, c := range columns {
			record[i] = c.Show(r)
			if c.Text != nil {
				record[i] = plainText(record[i])
			}
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// plainText puts an apostrophe before text that a spreadsheet would take for a formula, so that a file name or a
// treatment's name cannot run as one.
func plainText(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	if wording.FormulaLike(s) || strings.ContainsAny(s[:min(1, len(s))], "\t\r\n") {
		return "'" + s
	}
	return s
}
