package main

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"traygauge/vision/card"
)

// process starts this program as a process of its own, which can be killed.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self)
	c.Args = append([]string{"traygauge"}, args...) // by this name the test binary is the program: see TestMain
	return c
}

// finish runs a process to its end and returns its exit code and all that it said.
func finish(t *testing.T, c *exec.Cmd) (code int, said string) {
	t.Helper()
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	err := c.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return c.ProcessState.ExitCode(), out.String()
}

// trialFiles returns all files of the trial in dir by their paths below it, but for locks.
func trialFiles(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" {
			return err
		}
		below, err := filepath.Rel(dir, path)
		if err == nil {
			files[filepath.ToSlash(below)], err = os.ReadFile(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// copyTrial copies a trial's files into the folder to.
func copyTrial(t *testing.T, to string, files map[string][]byte) {
	t.Helper()
	for name, content := range files {
		path := filepath.Join(to, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// finishedFiles are the files of a finished trial, made once.
var finishedFiles struct {
	sync.Once
	files map[string][]byte
}

// finished makes smallTrial with one photo, measured, corrected and reported, and returns its files.
func finished(t *testing.T) (dir string, files map[string][]byte) {
	t.Helper()
	finishedFiles.Do(func() {
		dir := trialWith(t, smallTrial, "")
		if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
			t.Fatal(err)
		}
		drawPhoto(t, filepath.Join(dir, "photos", "tray-1-roots.jpg"), smallSpec(card.Roots, 1))
		for _, args := range [][]string{
			{"measure", dir}, {"correct", "exclude", dir, "tray-1-roots.jpg", "A1", "--why", "slugs", "--who", "Ana"}, {"measure", dir}, {"report", dir},
		} {
			if code, said := finish(t, process(t, args...)); code != exitOK && code != exitAttention {
				t.Fatalf("%v: exit %d: %s", args, code, said)
			}
		}
		finishedFiles.files = trialFiles(t, dir)
	})
	if finishedFiles.files == nil {
		t.Fatal("there is no finished trial to go on from")
	}
	dir = t.TempDir()
	copyTrial(t, dir, finishedFiles.files)
	return dir, maps.Clone(finishedFiles.files)
}
