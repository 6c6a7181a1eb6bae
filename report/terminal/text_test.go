package terminal

import (
	"strings"
	"testing"
	"unicode/utf8"

	"traygauge/measure/wording"
)

// A terminal is 110 wide at least; a name in the text cannot command it (ECMA-48: commands begin with ESC or with a C1 control).
func TestLinesAreNarrowAndHarmless(t *testing.T) {
	var out strings.Builder
	WriteItem(&out, strings.Repeat("größer ", 60)+"\x1b[2J \u009b2J end")
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	for i, line := range lines {
		if n := utf8.RuneCountInString(line); n > 110 || i > 0 && !strings.HasPrefix(line, "    g") && i < len(lines)-1 {
			t.Errorf("line %d, %d wide: %q", i, n, line)
		}
	}
	if len(lines) != 5 || strings.ContainsAny(out.String(), "\x1b\u009b") || !strings.HasSuffix(out.String(), "?[2J ?2J end\n") { // 15 words of 7 in 106, 60 in all, and the rest
		t.Errorf("%d lines:\n%q", len(lines), out.String())
	}
}

func TestDaysInWords(t *testing.T) {
	for want, days := range map[string][]int{"no day": nil, "day 10": {10}, "days 10 and 17": {10, 17}, "days 10, 17 and 24": {10, 17, 24}} {
		if got := wording.Days(days); got != want {
			t.Errorf("%v: %q, want %q", days, got, want)
		}
	}
}
