package terminal

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"traygauge/measure/finding"
)

// WriteFindings writes each finding and under it the line that it is about, with a mark at the place.
func WriteFindings(w io.Writer, findings []finding.Finding, dir string) {
	lines := map[string][][]byte{}
	for _, f := range findings {
		if _, read := lines[f.File]; !read {
			text, _ := os.ReadFile(filepath.Join(dir, f.File)) // it was read before; without it there is no line to show
			lines[f.File] = bytes.Split(text, []byte("\n"))
		}
		fmt.Fprintln(w, f)
		if f.Line > 0 && f.Line <= len(lines[f.File]) {
			printSource(w, f, []rune(string(bytes.ToValidUTF8(lines[f.File][f.Line-1], []byte("?")))))
		}
	}
	if len(findings) > 0 {
		fmt.Fprintf(w, "%s, %s, %s\n\n", CountFindings(findings, finding.Error, "mistake"), CountFindings(findings, finding.Warning, "warning"), CountFindings(findings, finding.Note, "note"))
	}
}

// printSource writes a file's line with its number, and a mark below the finding's place.
func printSource(w io.Writer, f finding.Finding, line []rune) {
	const most = 110 // of a longer line only the beginning is shown
	column := f.Column
	if column == 0 {
		for column = 1; column < len(line) && line[column-1] == ' '; column++ {
		}
	}
	for i, c := range line {
		if c < ' ' || c == 0x7f || c >= 0x80 && c < 0xa0 {
			line[i] = ' ' // one place wide, and no command to the terminal
		}
	}
	number := fmt.Sprintf("%5d | ", f.Line)
	if len(line) > most || column > most {
		line, column = append(line[:min(len(line), most):min(len(line), most)], '…'), min(column, most)
	}
	fmt.Fprintf(w, "%s%s\n%*s\n", number, string(line), len(number)+column, "^")
}

// CountFindings returns how many findings have severity s, in words.
func CountFindings(findings []finding.Finding, s finding.Severity, noun string) string {
	n := 0
	for _, f := range findings {
		if f.Severity == s {
			n++
		}
	}
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
