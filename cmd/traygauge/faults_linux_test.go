package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// smallDisk mounts a file system of the given size, or skips the test where that is not allowed.
func smallDisk(t *testing.T, size string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("this user may not mount a file system (%v); TestFilesThatMayNotGrow shows the same by another limit", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// losesNothing runs commands that cannot write all that they want to, and then again when they can.
func losesNothing(t *testing.T, dir, say string, want map[string][]byte, limited func(args ...string) *exec.Cmd, relieve func()) {
	t.Helper()
	for _, args := range [][]string{
		{"measure", dir, "--again"}, {"report", dir}, {"correct", "exclude", dir, "tray-1-roots.jpg", "A2", "--why", strings.Repeat("slugs ", 100), "--who", "Ana"},
	} {
		code, said := finish(t, limited(args...))
		if code != exitFailed || !strings.Contains(said, say) || strings.Contains(said, "goroutine ") {
			t.Errorf("%s: exit %d, want %d and %q: %s", args[0], code, exitFailed, say, said)
		}
		sameResults(t, args[0]+" that could not write", trialFiles(t, dir), want)
	}
	relieve()
	for _, args := range [][]string{{"measure", dir, "--again"}, {"report", dir}} {
		if code, said := finish(t, process(t, args...)); code == exitFailed {
			t.Errorf("%s when it could write again: exit %d: %s", args[0], code, said)
		}
	}
	sameResults(t, "when it could write again", trialFiles(t, dir), want)
}

func TestFullDisk(t *testing.T) {
	dir := smallDisk(t, "8m")
	_, want := finished(t)
	page := bytes.Repeat([]byte("\n"), os.Getpagesize())
	copy(page, want["corrections.jsonl"]) // the rest of a page would still take a line
	want["corrections.jsonl"] = page
	copyTrial(t, dir, want)
	ballast := filepath.Join(dir, ".ballast")
	f, err := os.Create(ballast)
	if err != nil {
		t.Fatal(err)
	}
	for err == nil { // to the last byte
		_, err = f.Write(make([]byte, 4096))
	}
	f.Close()
	full, err := os.ReadFile(ballast)
	if err != nil {
		t.Fatal(err)
	}
	want[".ballast"] = full
	losesNothing(t, dir, "no space left on device", want, func(args ...string) *exec.Cmd { return process(t, args...) }, func() {
		delete(want, ".ballast")
		if err := os.Remove(ballast); err != nil {
			t.Fatal(err)
		}
	})
}

// A limit on the size of files (ulimit -f) stops a write half way, as a full disk does.
func TestFilesThatMayNotGrow(t *testing.T) {
	dir, want := finished(t)
	limited := func(args ...string) *exec.Cmd {
		c := process(t, args...)
		shell := exec.Command("sh", "-c", `ulimit -f 1 && exec "$0" "$@"`)
		shell.Args = append(append(shell.Args, link(t)), c.Args[1:]...)
		return shell
	}
	losesNothing(t, dir, "file too large", want, limited, func() {})
}

// link returns this test's binary under the name by which it is the program.
func link(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "traygauge")
	if err := os.Symlink(self, name); err != nil {
		t.Fatal(err)
	}
	return name
}

// readOnly makes a folder and all in it read-only until writable is called, or skips the test where that cannot be done. It returns
// what the system says to who writes there.
func readOnly(t *testing.T, dir string) (say string, writable func()) {
	t.Helper()
	if os.Geteuid() != 0 {
		mode := func(folder, file os.FileMode) {
			err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
				switch {
				case err != nil:
					return err
				case d.IsDir():
					return os.Chmod(path, folder)
				}
				return os.Chmod(path, file)
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		mode(0o555, 0o444)
		t.Cleanup(func() { mode(0o755, 0o644) })
		return "permission denied", func() { mode(0o755, 0o644) }
	}
	// A superuser may write where no one may, but not on a file system that is read-only.
	if err := syscall.Mount(dir, dir, "", syscall.MS_BIND, ""); err != nil {
		t.Skipf("this user may write everywhere and not mount a folder read-only: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	remount := func(flags uintptr) {
		if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_BIND|flags, ""); err != nil {
			t.Skipf("this user may write everywhere and not mount a folder read-only: %v", err)
		}
	}
	remount(syscall.MS_RDONLY)
	return "read-only file system", func() { remount(0) }
}

func TestReadOnlyTrial(t *testing.T) {
	dir, want := finished(t)
	say, writable := readOnly(t, dir)
	if code, said := finish(t, process(t, "measure", dir)); code == exitFailed {
		t.Errorf("nothing is to be measured and nothing to be written, but exit %d: %s", code, said)
	}
	losesNothing(t, dir, say, want, func(args ...string) *exec.Cmd { return process(t, args...) }, writable)
}

// Photos that no one may write are measured, and neither they nor their folder are touched.
func TestPhotosAreOnlyRead(t *testing.T) {
	dir, want := finished(t)
	photos := filepath.Join(dir, "photos")
	readOnly(t, photos)
	stats := func() (list [2]os.FileInfo) {
		for i, path := range []string{photos, filepath.Join(photos, "tray-1-roots.jpg")} {
			var err error
			if list[i], err = os.Stat(path); err != nil {
				t.Fatal(err)
			}
		}
		return list
	}
	before := stats()
	for _, args := range [][]string{{"measure", dir, "--again"}, {"report", dir}} {
		if code, said := finish(t, process(t, args...)); code == exitFailed {
			t.Errorf("%s: exit %d: %s", args[0], code, said)
		}
	}
	for i, after := range stats() {
		if !after.ModTime().Equal(before[i].ModTime()) || after.Size() != before[i].Size() {
			t.Errorf("%s was changed", after.Name())
		}
	}
	if got := trialFiles(t, dir)["photos/tray-1-roots.jpg"]; !bytes.Equal(got, want["photos/tray-1-roots.jpg"]) {
		t.Error("the photo was changed")
	}
}

func TestTwoRunsAtOnce(t *testing.T) {
	dir, want := finished(t)
	for _, args := range [][]string{{"measure", dir, "--again"}, {"report", dir}} {
		var both sync.WaitGroup
		var done [2]bool
		for i := range done {
			both.Go(func() {
				code, said := finish(t, process(t, args...))
				done[i] = code != exitFailed
				if !done[i] && !strings.Contains(said, "in use by another traygauge process: wait until it has finished") {
					t.Errorf("%s: exit %d: %s", args[0], code, said)
				}
			})
		}
		both.Wait()
		if !done[0] && !done[1] {
			t.Errorf("%s: neither of two runs was let through", args[0])
		}
		sameResults(t, "two at once: "+args[0], trialFiles(t, dir), want)
	}
}

// A folder in which no one may write, as /proc is, gets an answer that says so.
func TestFoldersThatCannotBeMade(t *testing.T) {
	for _, c := range [][]string{{"new", "/proc/kale-trial"}, {"demo", "/proc/kale-trial"}} {
		if code, _, errs := traygauge(c...); code != exitFailed || !strings.Contains(errs, "check that you have write permission in /proc") {
			t.Errorf("%q: exit code %d, %s", c, code, errs)
		}
	}
}
