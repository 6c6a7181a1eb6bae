package store

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLock(t *testing.T) {
	dir := t.TempDir()
	held := func(shared bool) func() {
		t.Helper()
		unlock, err := Lock(dir, shared)
		if err != nil {
			t.Fatal(err)
		}
		return unlock
	}
	refused := func(shared bool, why string) {
		t.Helper()
		if _, err := Lock(dir, shared); !errors.Is(err, ErrLocked) {
			t.Errorf("%s: %v, want ErrLocked", why, err)
		}
	}
	alone := held(false)
	refused(false, "a second one")
	refused(true, "a shared one beside one alone")
	alone()
	one, two := held(true), held(true)
	refused(false, "one alone beside two shared ones")
	one()
	refused(false, "one alone beside a shared one")
	two()
	held(false)()
}

// TestMain lets TestALockEndsWithItsProcess start a process that holds a lock.
func TestMain(m *testing.M) {
	if dir := os.Getenv("HOLD_LOCK_ON"); dir != "" {
		if _, err := Lock(dir, false); err == nil {
			os.WriteFile(filepath.Join(dir, "held"), nil, 0o644)
		}
		time.Sleep(time.Minute)
		return
	}
	os.Exit(m.Run())
}

func TestALockEndsWithItsProcess(t *testing.T) {
	dir := t.TempDir()
	holder := exec.Command(os.Args[0])
	holder.Env = append(os.Environ(), "HOLD_LOCK_ON="+dir)
	if err := holder.Start(); err != nil {
		t.Fatal(err)
	}
	for range 1000 {
		if _, err := os.Stat(filepath.Join(dir, "held")); err == nil {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if _, err := Lock(dir, false); !errors.Is(err, ErrLocked) {
		t.Errorf("while another process holds it: %v, want ErrLocked", err)
	}
	holder.Process.Kill()
	holder.Wait()
	unlock, err := Lock(dir, false)
	if err != nil {
		t.Fatalf("after that process was killed: %v", err)
	}
	unlock()
}

func TestAFolderThatCannotBeLockedIsUsedWithout(t *testing.T) {
	unlock, err := Lock(filepath.Join(t.TempDir(), "gone"), false)
	if err != nil {
		t.Fatal(err)
	}
	unlock()
}

func TestRemoveParts(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "trial [1] *")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	left, err := os.CreateTemp(dir, partPattern)
	if err != nil {
		t.Fatal(err)
	}
	left.Close()
	for _, name := range []string{"whole.json", ".hidden", "part", ".other.part"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := RemoveParts(dir, time.Hour); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(left.Name()); err != nil {
		t.Error("what somebody may still be writing was removed")
	}
	if err := RemoveParts(dir, 0); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got := strings.Join(names, " "); got != ".hidden .other.part part whole.json" {
		t.Errorf("left are %s", got)
	}
}

func TestNamesAsLongAsASystemAllows(t *testing.T) {
	path := filepath.Join(t.TempDir(), strings.Repeat("k", 250)+".json")
	if err := WriteWhole(path, writeText("x")); err != nil {
		t.Error(err)
	}
	onlyFile(t, path)
}
