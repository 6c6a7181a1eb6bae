package trialdir

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"traygauge/measure/store"
)

// The folders of a trial.
const (
	PhotosFolder   = "photos"
	ReadingsFolder = "readings"
	OverlaysFolder = "overlays"
)

// Skipped is a file in photos/ that is none of a photo's formats and not named like one.
type Skipped struct {
	File string `json:"file"` // Path below photos/, with "/"
	Why  string `json:"why"`
}

// MakeFolder makes a folder of the trial, which must not lead out of it.
func MakeFolder(dir, name string) error {
	path := filepath.Join(dir, name)
	switch err := os.Mkdir(path, 0o755); {
	case err == nil:
		store.SyncFolder(dir)
	case errors.Is(err, fs.ErrExist) && !isFolder(path):
		return fmt.Errorf("cannot create the folder %s: %s has a file with that name: rename or move the file", name, dir)
	case !isFolder(path):
		return fmt.Errorf("cannot create the folder %s: %w: check that you have write permission in %s", name, PlainCause(err), dir)
	}
	if !staysInside(dir, path) {
		return fmt.Errorf("%s leads outside the trial’s folder: make %s a folder of the trial", path, name)
	}
	return nil
}

// longestWrite is more than writing any file takes.
const longestWrite = time.Hour

// RemoveParts removes what killed runs left half written.
func RemoveParts(dir string) error {
	return errors.Join(store.RemoveParts(filepath.Join(dir, ReadingsFolder), 0), store.RemoveParts(filepath.Join(dir, OverlaysFolder), 0),
		store.RemoveParts(dir, longestWrite)) // where other commands may be writing
}
