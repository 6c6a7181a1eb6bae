package finding

import (
	"fmt"
	"strings"

	"traygauge/measure/wording"
)

// Suggest returns the remedy for a name that is not among names: the one it was probably meant to be, or all of them.
func Suggest(name string, names []string) string {
	if best := Meant(name, names); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	if len(names) == 0 {
		return "none are defined yet"
	}
	return "use one of " + Quoted(names)
}

// Meant returns the one of names that name was probably meant to be, with a third of its letters wrong at most; "" for none.
func Meant(name string, names []string) (best string) {
	least := 1 + len([]rune(name))/3
	for _, n := range names {
		if d := distance(strings.ToLower(name), strings.ToLower(n)); d <= least && (best == "" || d < least) {
			best, least = n, d
		}
	}
	return best
}

// Quoted lists names in quotes; a long list is cut.
func Quoted(names []string) string {
	short := make([]string, len(names))
	for i, n := range names {
		short[i] = Short(n)
	}
	return wording.First(wording.Quoted(short), 12)
}

// distance returns how many letters have to be put in, taken out or changed to make b of a (Levenshtein 1966). Words of
// more than 64 letters are as far apart as the longer is long.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 64 || len(t) > 64 {
		return max(len(s), len(t))
	}
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i, c := range s {
		diagonal := row[0]
		row[0] = i + 1
		for j, d := range t {
			change := diagonal
			if c != d {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(t)]
}
