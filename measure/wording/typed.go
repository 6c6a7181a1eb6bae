package wording

import (
	"strings"
	"unicode/utf8"
)

// Typed is a folder's or file's name as it is typed after a command in a shell: within quotes where the shell would take it apart.
func Typed(name string) string {
	const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./+:,@%=-"
	special := func(r rune) bool { return r < utf8.RuneSelf && !strings.ContainsRune(plain, r) }
	if name != "" && !strings.ContainsFunc(name, special) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}
