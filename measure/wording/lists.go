// Package wording formats numbers, lists and names as text, the same way everywhere.
//
//	in    numbers, lists, and names that someone chose or a file has
//	out   words that fit a sentence, a terminal, a line of a file or a spreadsheet's cell
//
// It must not depend on what the words are about.
package wording

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Counted puts a number before the word for one or for several.
func Counted(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// Number writes a number as a sentence has it: "no", "one" and so on to "ten", then in digits.
func Number(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// CountedInWords is Counted with the number as Number writes it.
func CountedInWords(n int, one, several string) string {
	if n == 1 {
		return Number(n) + " " + one
	}
	return Number(n) + " " + several
}

// List joins words: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// First lists the first few of many: "a, b and 3 more".
func First(words []string, most int) string {
	list := strings.Join(words[:min(len(words), most)], ", ")
	if more := len(words) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// Quoted puts each of names in quotes.
func Quoted(names []string) []string {
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = fmt.Sprintf("%q", name)
	}
	return quoted
}

// Trays lists trays in order: "tray 3", "trays 3 and 5".
func Trays(numbers []int) string { return numbered("tray", numbers) }

// TraysDo lists trays with what one or several of them do: "tray 3 is", "trays 3 and 5 are".
func TraysDo(numbers []int, one, several string) string {
	if len(numbers) == 1 {
		return Trays(numbers) + " " + one
	}
	return Trays(numbers) + " " + several
}

// Days lists days in order: "day 10", "days 10, 17 and 24".
func Days(numbers []int) string { return numbered("day", numbers) }

func numbered(thing string, numbers []int) string {
	var list []string
	for _, n := range slices.Sorted(slices.Values(numbers)) {
		list = append(list, strconv.Itoa(n))
	}
	switch len(list) {
	case 0:
		return "no " + thing
	case 1:
		return thing + " " + list[0]
	}
	return thing + "s " + List(list)
}

// Upper makes the first letter a capital.
func Upper(s string) string {
	if s == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
