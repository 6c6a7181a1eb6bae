package wording

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Unprintable reports whether no screen shows a character, or whether it does something to one: line ends, commands to a terminal, marks that turn
// the reading direction.
func Unprintable(c rune) bool { return !unicode.IsPrint(c) }

// Printable replaces each unprintable character, so that a column stays as wide as it is.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if Unprintable(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// Shown is a file's name as a terminal, a log or a drawing may show it: one with unprintable characters is quoted, so that it is still known from
// others.
func Shown(name string) string {
	if !utf8.ValidString(name) || strings.ContainsFunc(name, Unprintable) {
		return strconv.Quote(name)
	}
	return name
}

// OneLine makes a line of what someone wrote and drops what is unprintable.
func OneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case Unprintable(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return strings.Join(strings.Fields(s), " ")
}

// FormulaLike reports whether a spreadsheet may take a cell for a formula. The wide forms count: some take them for the narrow ones. So does
// white space at the beginning: some drop it.
func FormulaLike(s string) bool {
	first, _ := utf8.DecodeRuneInString(strings.TrimSpace(s))
	return strings.ContainsRune("=+-@＝＋－＠", first)
}
