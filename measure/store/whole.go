// Package store writes and reads the files of a trial folder.
package store

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteWhole writes a file as a whole or not at all: whoever reads path sees what was there before or all that write
// wrote, also after a full disk or a power cut. It writes a file beside path, forces it to the disk and renames it. When
// write or the disk fails, path is left as it was and the file beside it is removed.
func WriteWhole(path string, write func(io.Writer) error) (err error) {
	part, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w: check that the folder exists and that you may write there", path, cause(err))
	}
	defer func() {
		if err != nil {
			part.Close() // harmless when it is closed already
			os.Remove(part.Name())
			err = fmt.Errorf("cannot write %s: %w", path, cause(err))
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
	if err = os.Rename(part.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
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

// syncFolder makes a rename last through a power cut. Some file systems cannot do it for a folder; the file itself is
// whole either way, so that is no error.
func syncFolder(dir string) {
	d, err := os.Open(dir)
	if err != nil {
		return
	}
	defer d.Close()
	d.Sync()
}
