package store

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// contentOf lists a folder's files with what they hold.
func contentOf(t *testing.T, dir string) (files []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, e.Name()+"="+string(text))
	}
	return files
}

// A folder is the new one or the old one, never parts of both: after an error in the middle, and after a process that ended at any step. What is not
// the folder's own stays in it.
func TestReplaceFolder(t *testing.T) {
	own := []string{"a", "b"}
	root := t.TempDir()
	dir := filepath.Join(root, "report")
	put := func(in string, files ...string) {
		t.Helper()
		if err := os.MkdirAll(in, 0o755); err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			name, text, _ := strings.Cut(f, "=")
			if err := os.WriteFile(filepath.Join(in, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	holds := func(when string, want ...string) {
		t.Helper()
		if got := contentOf(t, dir); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", when, got, want)
		}
		if left, _ := os.ReadDir(root); len(left) != 1 {
			t.Errorf("%s: beside it lie %v", when, left)
		}
	}
	replace := func(files ...string) error {
		return ReplaceFolder(dir, own, func(into string) error { put(into, files...); return nil })
	}
	if err := replace("a=1", "b=1"); err != nil {
		t.Fatal(err)
	}
	holds("made again", "a=1", "b=1")
	put(dir, "mine=x")
	if err := replace("a=2"); err != nil {
		t.Fatal(err)
	}
	holds("replaced by fewer files", "a=2", "mine=x")
	full := errors.New("no space left")
	if err := ReplaceFolder(dir, own, func(into string) error { put(into, "a=3"); return full }); !errors.Is(err, full) {
		t.Errorf("a full disk: %v", err)
	}
	holds("after a full disk", "a=2", "mine=x")

	put(dir+newSuffix, "a=half") // ended while filling
	if err := replace("a=4", "b=4"); err != nil {
		t.Fatal(err)
	}
	holds("after an end while filling", "a=4", "b=4", "mine=x")
	if err := os.Rename(dir, dir+oldSuffix); err != nil { // ended between the two renamings
		t.Fatal(err)
	}
	put(dir+newSuffix, "a=5", "b=5")
	full = errors.New("again")
	if err := ReplaceFolder(dir, own, func(string) error { return full }); !errors.Is(err, full) {
		t.Errorf("%v", err)
	}
	holds("taken back", "a=4", "b=4", "mine=x")
	put(dir+oldSuffix, "a=0", "kept=y") // ended before the folder before was cleared away
	if err := replace("a=6", "b=6"); err != nil {
		t.Fatal(err)
	}
	holds("cleared away", "a=6", "b=6", "kept=y", "mine=x")
}
