package store

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// ReadLimited reads the regular file called name, and no more than one byte above limit. A link must not lead out of the file's
// folder: a trial that came by mail must not make this computer's other files part of its plan.
func ReadLimited(name string, limit int64) ([]byte, error) {
	if leadsOut(name) {
		return nil, fmt.Errorf("%s is a link to a file outside the trial’s folder: put the file itself there", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a file: put the file itself there", name)
	}
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return text, nil
}

// leadsOut reports whether name, with all links followed, lies outside its folder. What is not there leads nowhere.
func leadsOut(name string) bool {
	real, err := filepath.EvalSymlinks(name)
	if err != nil {
		return false
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(name))
	if err != nil {
		return false
	}
	below, err := filepath.Rel(dir, real)
	return err != nil || !filepath.IsLocal(below)
}
