package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
)

// What one package may hold, its tests aside: as much as someone can read in a sitting and keep in mind.
const mostFiles, mostLines = 20, 2500

// A package that grows beyond what can be read in a sitting is split by what it is about. The sources in C and C++ beside Go's are part of it.
func TestPackagesAreSmall(t *testing.T) {
	files, lines := map[string]int{}, map[string]int{}
	eachSource(t, func(path string, text []byte) {
		switch filepath.Ext(path) {
		case ".go", ".c", ".cpp", ".h":
			if folder := filepath.ToSlash(filepath.Dir(path)); !strings.HasSuffix(path, "_test.go") {
				files[folder]++
				lines[folder] += bytes.Count(text, []byte("\n"))
			}
		}
	})
	if len(files) < 50 {
		t.Errorf("%d packages were found: this test looks in the wrong places", len(files))
	}
	for folder, n := range files {
		if n > mostFiles || lines[folder] > mostLines {
			t.Errorf("%s has %d files with %d lines without tests, at most %d with %d are wanted: split it by what it is about", folder, n, lines[folder], mostFiles, mostLines)
		}
	}
}
