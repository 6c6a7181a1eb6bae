package outcome

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure/reading"
)

// TrayList names trays in words with their verb: "tray 3 is", "trays 3 and 5 are".
func TrayList(numbers []int, one, several string) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = fmt.Sprint(n)
	}
	if len(words) == 1 {
		return strings.TrimSpace("tray " + words[0] + " " + one)
	}
	return strings.TrimSpace("trays " + List(words) + " " + several)
}

// List joins words: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func Counted(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// Upper makes the first letter a capital.
func Upper(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// PWords writes a p value: "p = 0.031", "p < 0.001", or "" for none.
func PWords(p reading.Number) string {
	switch {
	case !p.Known():
		return ""
	case p < 0.001:
		return "p < 0.001"
	case p >= 0.1:
		return fmt.Sprintf("p = %.2f", math.Min(1, float64(p)))
	}
	return fmt.Sprintf("p = %.3f", float64(p))
}
