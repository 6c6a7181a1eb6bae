package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

func TestAppendFromManySides(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			err := Append(path, 1<<20, func(before []byte) ([]byte, error) {
				return fmt.Appendf(nil, "%d of %d\n", i, strings.Count(string(before), "\n")), nil
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	text, _ := os.ReadFile(path)
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	if len(lines) != 20 {
		t.Fatalf("%d lines, want 20:\n%s", len(lines), text)
	}
	for n, line := range lines {
		if !strings.HasSuffix(line, fmt.Sprintf(" of %d", n)) {
			t.Errorf("line %d did not see the ones before it: %s", n, line)
		}
	}
}

func TestAppendAddsAllOrNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	put := func(text string) error {
		return Append(path, 20, func([]byte) ([]byte, error) { return []byte(text), nil })
	}
	holds := func(want string) {
		t.Helper()
		if got, _ := os.ReadFile(path); string(got) != want {
			t.Errorf("the file holds %q, want %q", got, want)
		}
	}
	if err := os.WriteFile(path, []byte("cut off"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := put("one\n"); err != nil {
		t.Fatal(err)
	}
	holds("cut off\none\n")
	if err := put("nine letters\n"); err == nil || !strings.Contains(err.Error(), "is full") {
		t.Errorf("beyond the limit: %v", err)
	}
	no := errors.New("not today")
	if err := Append(path, 20, func([]byte) ([]byte, error) { return []byte("x"), no }); !errors.Is(err, no) {
		t.Errorf("refused by its caller: %v", err)
	}
	holds("cut off\none\n")
	link := filepath.Join(t.TempDir(), "log.csv")
	if err := os.Symlink(path, link); err == nil {
		if err := Append(link, 20, func([]byte) ([]byte, error) { return []byte("x"), nil }); err == nil {
			t.Error("added through a link, which may lead out of the trial")
		}
	}
	holds("cut off\none\n")
}
