package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
)

// A quantity's name is written out once. Stand is a common word and left out.
func TestQuantitiesAreNamedOnce(t *testing.T) {
	names := append([]string{outcome.RootCover, outcome.RootToShoot, outcome.RootUneven, outcome.LeafUneven, outcome.RootGrowth, outcome.LeafGrowth,
		outcome.RootSeason, outcome.LeafSeason, outcome.LeafHue, outcome.DarkGreen}, plan.Outcomes...)
	rooms, found := []string{"measure", "report", "cmd"}, 0
	eachSource(t, func(path string, text []byte) {
		path = filepath.ToSlash(path)
		room, _, _ := strings.Cut(path, "/")
		if !slices.Contains(rooms, room) || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		table := filepath.Base(path) == "quantities.go" || filepath.Base(path) == "question.go"
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				if word, err := strconv.Unquote(l.Value); err == nil && slices.Contains(names, word) {
					if found++; !table {
						t.Errorf("%s: %q is written out: take the constant of outcome or plan", path, word)
					}
				}
			}
			return true
		})
	})
	if found != len(names) {
		t.Errorf("%d names are written out, want each of %d once", found, len(names))
	}
}
