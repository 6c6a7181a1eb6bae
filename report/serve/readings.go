package serve

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
)

// readingsKept caches the trial's readings and reads them again when one of their files has changed. Every page needs all of them.
type readingsKept struct {
	mu       sync.Mutex
	of       string // the files' names, sizes and times
	readings []reading.Reading
	broken   []error
}

// all returns the trial's readings and the errors in them. The readings are shared and must not be changed.
func (k *readingsKept) all(dir string) ([]reading.Reading, []error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if of := filesOf(dir); of != k.of || of == "" {
		k.of = of
		k.readings, k.broken = reading.LoadReadings(dir)
	}
	return slices.Clone(k.readings), k.broken
}

// filesOf returns a fingerprint of the files that the readings come from.
func filesOf(dir string) string {
	var of strings.Builder
	add := func(info os.FileInfo) { fmt.Fprintln(&of, info.Name(), info.Size(), info.ModTime().UnixNano()) }
	entries, err := os.ReadDir(filepath.Join(dir, trialdir.ReadingsFolder))
	if err != nil {
		return ""
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil {
			add(info)
		}
	}
	if info, err := os.Stat(filepath.Join(dir, correct.FileName)); err == nil {
		add(info)
	}
	return of.String()
}
