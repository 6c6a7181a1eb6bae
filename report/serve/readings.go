package serve

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"traygauge/measure"
	"traygauge/measure/correct"
)

// readingsKept are the trial's readings, read again when one of their files has changed: every page asks for all of them, and a phone
// that asks often must not keep the computer reading.
type readingsKept struct {
	mu       sync.Mutex
	of       string // the files' names, sizes and times
	readings []measure.Reading
	broken   []error
}

// all returns the trial's readings and what is wrong with some. They are shared: nobody changes them.
func (k *readingsKept) all(dir string) ([]measure.Reading, []error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if of := filesOf(dir); of != k.of || of == "" {
		k.of = of
		k.readings, k.broken = measure.LoadReadings(dir)
	}
	return slices.Clone(k.readings), k.broken
}

// filesOf says which files the readings come from, and how they are.
func filesOf(dir string) string {
	var of strings.Builder
	add := func(info os.FileInfo) { fmt.Fprintln(&of, info.Name(), info.Size(), info.ModTime().UnixNano()) }
	entries, err := os.ReadDir(filepath.Join(dir, measure.ReadingsFolder))
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
