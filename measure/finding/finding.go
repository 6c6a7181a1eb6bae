// Package finding represents mistakes in a file: what is wrong, on which line, and how to fix it.
//
//	in    what the readers of a trial's files find, line by line
//	out   findings in order, the error that names the mistakes, remedies that guess which name was meant
//
// It must not depend on what the files are about, nor how they are written.
package finding

import (
	"fmt"
	"slices"
	"strings"
)

// Severity says how much a finding matters.
type Severity int

// A plan with an Error is not used; with a Warning it is, but its comparisons say less than they seem to; a Note tells what
// was assumed.
const (
	Error Severity = 1 + iota
	Warning
	Note
)

// String returns the word that is printed in front of a finding.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	case Note:
		return "note"
	}
	return fmt.Sprintf("severity %d", int(s))
}

// MarshalText writes the word, for JSON.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Finding is one thing about a file that its writer should know: what is wrong, and what would be right.
type Finding struct {
	File     string   `json:"file"`
	Line     int      `json:"line"`             // from 1
	Column   int      `json:"column,omitempty"` // from 1; 0 when it is the whole line
	Severity Severity `json:"severity"`
	Message  string   `json:"message"`
	Remedy   string   `json:"remedy,omitempty"`
}

// String returns the finding on one line, as in
//
//	trial.yaml:14: error: there is no treatment "kelp": available names are "seaweed", "water only"
func (f Finding) String() string {
	s := fmt.Sprintf("%s:%d: %v: %s", f.File, f.Line, f.Severity, f.Message)
	if f.Remedy != "" {
		s += ": " + f.Remedy
	}
	return s
}

// HasErrors reports whether one of the findings is an Error.
func HasErrors(findings []Finding) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool { return f.Severity == Error })
}

// MistakesError is returned for a file that has mistakes in it. It names each of them.
type MistakesError struct {
	File     string
	Findings []Finding // only those of Severity Error
}

// mistakes returns nil when none of the findings is an Error.
func mistakes(file string, findings []Finding) error {
	e := &MistakesError{File: file}
	for _, f := range findings {
		if f.Severity == Error {
			e.Findings = append(e.Findings, f)
		}
	}
	if len(e.Findings) == 0 {
		return nil
	}
	return e
}

// Error returns a line that counts the mistakes and one line for each.
func (e *MistakesError) Error() string {
	var b strings.Builder
	noun := "mistakes"
	if len(e.Findings) == 1 {
		noun = "mistake"
	}
	fmt.Fprintf(&b, "%s has %d %s to fix first", e.File, len(e.Findings), noun)
	for _, f := range e.Findings {
		b.WriteString("\n  " + f.String())
	}
	return b.String()
}
