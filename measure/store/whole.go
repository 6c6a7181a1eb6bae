// Package store writes and reads the files of a trial's folder, without losing data or reading files outside the folder.
//
//	in    paths, what to write, how much may be read
//	out   files and folders written whole or not at all, lines added by several programs at once, the lock against a second run
//
// It must not depend on the contents of the files.
package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// partPattern is what a file is called until it is whole. It is hidden, and short whatever the whole file's name is.
const partPattern = ".traygauge-*.part"

// WriteWhole writes a file as a whole or not at all: whoever reads path sees what was there before or all that write
// wrote, also after a full disk or a power cut. It writes a file beside path, forces it to the disk and renames it. When
// write or the disk fails, path is left as it was and the file beside it is removed; a process that is killed leaves it
// for RemoveParts.
func WriteWhole(path string, write func(io.Writer) error) error {
	return writeWhole(path, write, os.Rename)
}

// WriteNew is WriteWhole for a file that must not be there yet; one that is there stays as it is, and the error is
// fs.ErrExist.
func WriteNew(path string, write func(io.Writer) error) error {
	return writeWhole(path, write, func(part, path string) error {
		err := os.Link(part, path) // unlike a renaming it replaces nothing
		if err == nil || errors.Is(err, fs.ErrExist) {
			os.Remove(part) // at worst it stays for RemoveParts
			return err
		}
		if _, there := os.Lstat(path); there == nil { // a file system without links
			return fs.ErrExist
		}
		return os.Rename(part, path)
	})
}

func writeWhole(path string, write func(io.Writer) error, place func(part, path string) error) (err error) {
	part, err := os.CreateTemp(filepath.Dir(path), partPattern)
	if err != nil {
		return fmt.Errorf("cannot write %s: %w: check that the folder exists and that you have write permission there", path, cause(err))
	}
	defer func() {
		if err != nil {
			part.Close() // harmless when it is closed already
			os.Remove(part.Name())
			err = fmt.Errorf("cannot write %s: %w%s", path, cause(err), room(err))
		}
	}()
	if err = write(part); err != nil {
		return err
	}
	if err = part.Chmod(0o644); err != nil { // CreateTemp's own mode hides the file from everybody else
		return err
	}
	if err = part.Sync(); err != nil {
		return err
	}
	if err = part.Close(); err != nil {
		return err
	}
	if err = place(part.Name(), path); err != nil {
		return err
	}
	SyncFolder(filepath.Dir(path))
	return nil
}

// RemoveParts removes what killed processes left in folder dir half written. Under the folder's lock no one else is writing
// there, and olderThan is 0; without, it is longer than any file takes to be written.
func RemoveParts(dir string, olderThan time.Duration) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("cannot list %s: %w", dir, cause(err))
	}
	for _, e := range entries {
		if half, _ := filepath.Match(partPattern, e.Name()); !half || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err != nil || time.Since(info.ModTime()) < olderThan {
			continue
		}
		if err := os.Remove(filepath.Join(dir, e.Name())); err != nil && !os.IsNotExist(err) {
			return fmt.Errorf("cannot delete the unfinished files of an earlier run: %w", err)
		}
	}
	return nil
}

// room is the remedy for a disk that is full, "" for other errors.
func room(err error) string {
	if errors.Is(err, syscall.ENOSPC) {
		return ": free some disk space and try again; the old file is unchanged"
	}
	return ""
}

// cause drops the name of the file that only WriteWhole knows, so that the message names the user's file once.
func cause(err error) error {
	switch e := err.(type) {
	case *os.PathError:
		return e.Err
	case *os.LinkError:
		return e.Err
	}
	return err
}

// SyncFolder makes what was made or renamed in a folder last through a power cut. Some file systems cannot do it for a
// folder; each file is whole either way, so that is no error.
func SyncFolder(dir string) {
	d, err := os.Open(dir)
	if err != nil {
		return
	}
	defer d.Close()
	d.Sync()
}
