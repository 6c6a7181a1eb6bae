package finding

import (
	"fmt"
	"slices"
	"unicode/utf8"
)

// List collects what is found while a file is read. The zero value with the file's name is ready.
type List struct {
	File  string // as it stands in the findings
	Found []Finding
}

// most is how many findings are kept. A file with more is no plan with slips in it but something else.
const most = 300

// Full reports whether no more findings are kept.
func (l *List) Full() bool { return len(l.Found) > most }

// Add adds a finding at a place in the file; column 0 is the whole line.
func (l *List) Add(s Severity, line, column int, message, remedy string) {
	switch n := len(l.Found); {
	case n > most:
		return
	case n == most:
		s, column, message, remedy = Error, 0, "there are more mistakes after this one", "fix the ones above first"
	}
	l.Found = append(l.Found, Finding{l.File, line, column, s, message, remedy})
}

// Warn adds a warning for the whole line.
func (l *List) Warn(line int, remedy, format string, args ...any) {
	l.Add(Warning, max(line, 1), 0, fmt.Sprintf(format, args...), remedy)
}

// Sorted returns the findings in the order of their lines, those on one line as they were found, and a *MistakesError if there is an Error
// among them.
func (l *List) Sorted() ([]Finding, error) {
	slices.SortStableFunc(l.Found, func(a, b Finding) int { return a.Line - b.Line })
	return l.Found, mistakes(l.File, l.Found)
}

// Short cuts what is quoted back to a length that fits a line.
func Short(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
