package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// The names beside a folder under which a new one is filled, and under which the one before waits to be cleared away.
const (
	newSuffix = ".new"
	oldSuffix = ".old"
)

// ReplaceFolder puts a new folder in the place of dir, whole or not at all: fill writes the files into the folder that it is given, and only when it
// returns no error does that one take dir's place. names are the files and folders that are dir's own; whatever else lay in dir stays there.
// A crash leaves dir as it was or as it is to be; on systems that cannot exchange two names, for the moment between the two also under another
// name, from which the next call takes it back. The caller holds a lock.
func ReplaceFolder(dir string, names []string, fill func(into string) error) error {
	if err := takeBack(dir, names); err != nil {
		return err
	}
	made := dir + newSuffix
	if err := os.Mkdir(made, 0o755); err != nil {
		return fmt.Errorf("cannot write %s: %w: check that you have write permission there", dir, cause(err))
	}
	if err := fill(made); err != nil {
		os.RemoveAll(made)
		return err
	}
	SyncFolder(made)
	if err := swap(dir, made); err != nil {
		os.RemoveAll(made)
		return fmt.Errorf("cannot write %s: %w: check that you have write permission there", dir, cause(err))
	}
	return clearAway(dir, names)
}

// swap puts made into dir's place and leaves what was there under the name with oldSuffix. Where the system can exchange two names at once, dir is
// there at every moment.
func swap(dir, made string) error {
	old := dir + oldSuffix
	defer SyncFolder(filepath.Dir(dir))
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(made, dir)
	}
	if err := os.Rename(made, old); err != nil {
		return err
	}
	if exchange(dir, old) == nil {
		return nil
	}
	if err := os.Rename(old, made); err != nil {
		return err
	}
	if err := os.Rename(dir, old); err != nil {
		return err
	}
	if err := os.Rename(made, dir); err != nil {
		os.Rename(old, dir)
		return err
	}
	return nil
}

// takeBack repairs what an earlier call left when it was ended.
func takeBack(dir string, names []string) error {
	if err := os.RemoveAll(dir + newSuffix); err != nil {
		return fmt.Errorf("cannot delete %s: %w: delete it by hand", dir+newSuffix, cause(err))
	}
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		if err := os.Rename(dir+oldSuffix, dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("cannot put back %s: %w: rename %s by hand", dir, cause(err), dir+oldSuffix)
		}
	}
	return clearAway(dir, names)
}

// clearAway removes the folder before, after what is not among names has been moved into dir.
func clearAway(dir string, names []string) error {
	old := dir + oldSuffix
	entries, err := os.ReadDir(old)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, e := range entries {
		half, _ := filepath.Match(partPattern, e.Name())
		if half || slices.Contains(names, e.Name()) {
			continue
		}
		to := filepath.Join(dir, e.Name())
		if _, err := os.Lstat(to); err == nil {
			continue
		}
		if err := os.Rename(filepath.Join(old, e.Name()), to); err != nil {
			return fmt.Errorf("cannot move %s to safety: %w: move it out of %s by hand", e.Name(), cause(err), old)
		}
	}
	if err := os.RemoveAll(old); err != nil {
		return fmt.Errorf("cannot delete %s: %w: delete it by hand", old, cause(err))
	}
	return nil
}
