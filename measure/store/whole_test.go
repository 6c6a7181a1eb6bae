package store

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func writeText(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

func TestWriteWholeReplaces(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plugs.csv")
	for _, text := range []string{"first and long", "second"} {
		if err := WriteWhole(path, writeText(text)); err != nil {
			t.Fatal(err)
		}
		if got, _ := os.ReadFile(path); string(got) != text {
			t.Errorf("the file holds %q, want %q", got, text)
		}
	}
	onlyFile(t, path)
}

func TestWriteWholeLeavesTheOldFileWhenWritingFailsHalfWay(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plugs.csv")
	if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	full := errors.New("the disk is full")
	err := WriteWhole(path, func(w io.Writer) error {
		io.WriteString(w, "half of the n")
		return full
	})
	if !errors.Is(err, full) || !strings.Contains(err.Error(), path) {
		t.Errorf("error is %v, want the cause and the file's name", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("the file holds %q, want what was there before", got)
	}
	onlyFile(t, path)
}

func TestWriteNewReplacesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "trial.yaml")
	if err := WriteNew(path, writeText("first")); err != nil {
		t.Fatal(err)
	}
	if err := WriteNew(path, writeText("second")); !errors.Is(err, os.ErrExist) || !strings.Contains(err.Error(), path) {
		t.Errorf("over a file that is there: %v", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "first" {
		t.Errorf("the file holds %q, want what was there before", got)
	}
	onlyFile(t, path)
}

func TestWriteWholeOverAFolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plugs.csv")
	if err := os.MkdirAll(filepath.Join(path, "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := WriteWhole(path, writeText("x")); err == nil {
		t.Error("a folder was replaced by a file")
	}
	onlyFile(t, path)
}

func TestWriteWholeNamesTheFolderItCannotWriteTo(t *testing.T) {
	missing := filepath.Join(t.TempDir(), "gone", "plugs.csv")
	err := WriteWhole(missing, writeText("x"))
	if !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), missing) {
		t.Errorf("missing folder: error is %v", err)
	}
	if os.Geteuid() == 0 {
		t.Skip("nothing is read-only to the superuser")
	}
	locked := t.TempDir()
	if err := os.Chmod(locked, 0o555); err != nil {
		t.Fatal(err)
	}
	err = WriteWhole(filepath.Join(locked, "plugs.csv"), writeText("x"))
	if !errors.Is(err, os.ErrPermission) {
		t.Errorf("read-only folder: error is %v, want permission denied", err)
	}
}

// onlyFile fails when something was left beside path.
func onlyFile(t *testing.T, path string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 {
		t.Errorf("folder holds %v (%v), want %s alone", entries, err, filepath.Base(path))
	}
}
