// Package terminal writes results as text for a terminal and as JSON for scripts.
//
//	in    plans, readings, comparisons and corrections
//	out   text with lines of at most 110 characters, without control characters; values to encode as JSON
//
// It must not depend on flags, files or exit codes, and makes no judgements.
package terminal

import (
	"encoding/json"
	"io"
	"os"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

func upperFirst(s string) string { return wording.Upper(strings.TrimSuffix(s, ".")) }

func percent(n reading.Number) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(float64(n), 'f', 0, 64) + " %"
}

// WriteAligned writes rows in columns two spaces apart, indented.
func WriteAligned(out *strings.Builder, rows [][]string) {
	wide := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(wording.Printable(cell)))
		}
	}
	for _, row := range rows {
		line := " "
		for i, cell := range row {
			if wide[i] == 0 {
				continue
			}
			cell = wording.Printable(cell)
			line += " " + cell + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)) + " "
		}
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// WriteItem writes one item of a list, its lines at most 110 wide.
func WriteItem(out *strings.Builder, text string) { writeWrapped(out, "  - ", "    ", text) }

// writeParagraph writes text in lines of at most 110.
func writeParagraph(out *strings.Builder, before, text string) {
	if text != "" {
		out.WriteString(before)
		writeWrapped(out, "", "", text)
	}
}

func writeWrapped(out *strings.Builder, first, others, text string) {
	const most = 110
	line := first
	for _, word := range strings.Fields(wording.Printable(text)) {
		if utf8.RuneCountInString(line)+utf8.RuneCountInString(word) > most {
			out.WriteString(strings.TrimRight(line, " ") + "\n")
			line = others
		}
		line += word + " "
	}
	out.WriteString(strings.TrimRight(line, " ") + "\n")
}

// digits writes v with three significant digits, and whole from 100 on: more cannot be measured out.
func digits(v float64) string {
	if v >= 100 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}

// WriteJSON writes v as indented JSON, with <, > and & as they are.
func WriteJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// IsTerminal reports whether someone can watch a bar move on w.
func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd())) && os.Getenv("TERM") != "dumb"
}

// WriteEscapedJSON writes v as indented JSON that may stand within a page: <, > and & are escaped.
func WriteEscapedJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
