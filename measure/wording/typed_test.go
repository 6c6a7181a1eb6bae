package wording

import (
	"os/exec"
	"testing"
)

// A shell makes of each the name that it was, and plain names are left as people type them.
func TestTyped(t *testing.T) {
	for name, want := range map[string]string{"kale-trial": "kale-trial", "./kale/day_7": "./kale/day_7", "a b": "'a b'", "it's": `'it'\''s'`, "$HOME": "'$HOME'", "Grünkohl": "Grünkohl", "": "''"} {
		got := Typed(name)
		if got != want {
			t.Errorf("%q is typed %s, want %s", name, got, want)
		}
		said, err := exec.Command("sh", "-c", "printf %s "+got).Output()
		if err != nil || string(said) != name {
			t.Errorf("a shell makes %q of %s: %v", said, got, err)
		}
	}
}
