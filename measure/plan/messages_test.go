package plan

import (
	"strings"
	"testing"
)

// A mistake is listed once, on its own line, and brings no second message that is not true.
func TestMistakesBringNoFalseMessages(t *testing.T) {
	for _, c := range []struct {
		old, new string
		want     string
		not      []string
	}{
		{"rule_mm: 99.6", "rule_mm: 9.96", "rule_mm is 9.96", []string{"has not been measured", "without rule_mm"}},
		{"rule_mm: 99.6", "rule_mm: 0", "rule_mm is 0", []string{"has not been measured", "without rule_mm"}},
		{"review_days: [21, 7, 14]", "review_days: 14", "review_days", []string{"no review days"}},
		{"review_days: [21, 7, 14]", "review_days: [2026-03-16]", "contains the date 2026-03-16", []string{"no review days"}},
		{"review_days: [21, 7, 14]", "review_days: []", "no review days", nil},
		{"first_plug_mm: [45, 40]", "first_plug_mm: [45, 40, 3]", "list of two numbers, not a list of 3", nil},
		{"title: Kale trial", "title: Kale\x00 trial", "trial.yaml:1: error: the file contains a NUL byte", []string{"not UTF-8"}},
	} {
		if !strings.Contains(whole, c.old) {
			t.Errorf("the whole plan has no %q", c.old)
			continue
		}
		_, findings, _ := Parse([]byte(strings.Replace(whole, c.old, c.new, 1)), FileName)
		said := list(findings)
		if !strings.Contains(said, c.want) {
			t.Errorf("%q: want %q, got\n%s", c.new, c.want, said)
		}
		for _, not := range c.not {
			if strings.Contains(said, not) {
				t.Errorf("%q: %q is not so:\n%s", c.new, not, said)
			}
		}
	}
}

// Of seven settings that a block does not have, the first says which there are.
func TestTheSettingsOfABlockAreListedOnce(t *testing.T) {
	text := strings.Replace(whole, "tray:\n", "tray:\n  qqa: 1\n  qqb: 1\n  qqc: 1\n", 1)
	_, findings, _ := Parse([]byte(text), FileName)
	said := list(findings)
	if strings.Count(said, "has no setting") != 3 || strings.Count(said, `"leaf_height_mm_on_day"`) != 1 {
		t.Errorf("%s", said)
	}
}

// A brace left open on the last line of a list is looked for on the line itself and next to it.
func TestABraceLeftOpen(t *testing.T) {
	_, findings, err := Parse([]byte(strings.Replace(whole, "treatment: both, position: 7}", "treatment: both, position: 7", 1)), FileName)
	if err == nil || !strings.Contains(list(findings), "lines around it") {
		t.Errorf("%v\n%s", err, list(findings))
	}
}
