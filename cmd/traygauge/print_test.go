package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrint(t *testing.T) {
	dir := trialFolder(t)
	code, out, errs := call("print", dir)
	if code != exitOK || strings.TrimSpace(out) != filepath.Join(dir, "sheets.pdf") {
		t.Fatalf("exit code %d, %q: %s", code, out, errs)
	}
	if !strings.Contains(errs, "100 %") {
		t.Errorf("no word of printing at full size: %s", errs)
	}
	elsewhere := filepath.Join(t.TempDir(), "kale.pdf")
	if code, _, errs := call("print", dir, "--paper", "letter", "-o", elsewhere); code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	a4, _ := os.ReadFile(filepath.Join(dir, "sheets.pdf"))
	letter, _ := os.ReadFile(elsewhere)
	if !bytes.HasPrefix(a4, []byte("%PDF")) || !bytes.HasPrefix(letter, []byte("%PDF")) || bytes.Equal(a4, letter) {
		t.Error("the two papers did not give two PDFs")
	}
}

func TestPrintRefuses(t *testing.T) {
	dir := trialFolder(t)
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitUsage, []string{"print", dir, "--paper", "a5"}, "letter"},
		{exitUsage, []string{"print", dir, "--card", "0"}, "--card"},
		{exitUsage, []string{"print", dir, "--bench-columns", "20"}, "8"},
		{exitUsage, []string{"print", dir, dir}, "give one folder, not 2"},
		{exitFailed, []string{"print", dir, "-o", filepath.Join(dir, "gone", "x.pdf")}, "folder exists"},
	} {
		if code, _, errs := call(c.args...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit code %d, want %d: %s", c.args, code, c.want, errs)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "trial.yaml"), []byte(inventedTrial+"colour: green\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := call("print", dir); code != exitFailed || !strings.Contains(errs, "colour") {
		t.Errorf("a plan with a mistake: exit code %d: %s", code, errs)
	}
}
