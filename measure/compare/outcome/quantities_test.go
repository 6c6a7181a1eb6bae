package outcome

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure/plan"
)

// A quantity's name is written out once. Stand is a common word and left out.
func TestQuantitiesAreNamedOnce(t *testing.T) {
	names := append([]string{RootCover, RootToShoot, RootUneven, LeafUneven, RootGrowth, LeafGrowth, RootSeason, LeafSeason, LeafHue, DarkGreen}, plan.Outcomes...)
	root, found := filepath.Join("..", "..", ".."), 0
	for _, room := range []string{"measure", "report", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
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
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if found != len(names) {
		t.Errorf("%d names are written out, want each of %d once", found, len(names))
	}
}
