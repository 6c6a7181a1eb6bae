package reading

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
)

// kindsHere returns the words of the constants in kinds.go.
func kindsHere(t *testing.T) (words []string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "kinds.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
			word, _ := strconv.Unquote(l.Value)
			if slices.Contains(words, word) {
				t.Errorf("two kinds are %q", word)
			}
			words = append(words, word)
		}
		return true
	})
	return words
}

// stringIn returns the text of an expression that is a string in quotes.
func stringIn(e ast.Expr) (text string, ok bool) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(l.Value)
	return text, err == nil
}

// writtenKinds returns the kinds that a file names in quotes: as the first thing that Refuse, refuse or Doubt is given after what is refused, and
// as a Concern's or a Refusal's Kind.
func writtenKinds(f *ast.File) (words []string) {
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			name := ""
			switch fun := n.Fun.(type) {
			case *ast.Ident:
				name = fun.Name
			case *ast.SelectorExpr:
				name = fun.Sel.Name
			}
			if !slices.Contains([]string{"Refuse", "refuse", "Doubt"}, name) {
				break
			}
			for _, arg := range n.Args[:min(2, len(n.Args))] {
				if word, ok := stringIn(arg); ok {
					words = append(words, word)
					break
				}
			}
		case *ast.CompositeLit:
			name := ""
			switch kind := n.Type.(type) {
			case *ast.Ident:
				name = kind.Name
			case *ast.SelectorExpr:
				name = kind.Sel.Name
			}
			for _, e := range n.Elts {
				pair, ok := e.(*ast.KeyValueExpr)
				if key, isName := pairKey(pair, ok); isName && key == "Kind" && slices.Contains([]string{"", "Concern", "Refusal"}, name) {
					if word, quoted := stringIn(pair.Value); quoted {
						words = append(words, word)
					}
				}
			}
		}
		return true
	})
	return words
}

func pairKey(pair *ast.KeyValueExpr, ok bool) (string, bool) {
	if !ok {
		return "", false
	}
	key, isName := pair.Key.(*ast.Ident)
	if !isName {
		return "", false
	}
	return key.Name, true
}

// Each kind that the code names is one of kinds.go. vision and trialdir, which may not know this package, write theirs in quotes; all others take the
// constants, so that a misspelt one does not compile.
func TestKindsAreThoseOfTheTable(t *testing.T) {
	words := kindsHere(t)
	found := map[string]bool{}
	for _, room := range []string{"vision", "measure", "report", "cmd"} {
		err := filepath.WalkDir(filepath.Join("..", "..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			below := room == "vision" || strings.Contains(filepath.ToSlash(path), "/trialdir/")
			for _, word := range writtenKinds(f) {
				found[word] = true
				if !slices.Contains(words, word) && below {
					t.Errorf("%s: %q is not in kinds.go", path, word)
				} else if slices.Contains(words, word) && !below {
					t.Errorf("%s: %q is written out: take the constant of kinds.go", path, word)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, word := range []string{"no card", "blurred", "broken", "outside the trial"} { // of four rooms
		if !found[word] {
			t.Errorf("%q was not found in the code: this test looks in the wrong places", word)
		}
	}
}
