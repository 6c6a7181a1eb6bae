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

	"traygauge/vision/card"
)

// parsed calls see with each file of the rooms that is not a test, by its path below the repository's root.
func parsed(t *testing.T, see func(path string, f *ast.File)) {
	t.Helper()
	root := filepath.Join("..", "..")
	for _, room := range []string{"vision", "measure", "report", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err == nil {
				path, err = filepath.Rel(root, path)
				see(filepath.ToSlash(path), f)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// kindsIn returns the constants of type Kind that a file gives a word, by their names, and those that it takes from another room.
func kindsIn(f *ast.File) (words map[string]string, taken []string) {
	words = map[string]string{}
	ast.Inspect(f, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		if word, quoted := stringIn(spec.Values[0]); quoted && nameOf(spec.Type) == "Kind" {
			words[spec.Names[0].Name] = word
		} else if from := nameOf(spec.Values[0]); from == spec.Names[0].Name {
			taken = append(taken, from)
		}
		return true
	})
	return words, taken
}

// nameOf returns the last part of a name such as reading.Kind, "" for another expression.
func nameOf(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
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

// writtenKinds returns the kinds that a file names in quotes: as what Refuse, refuse or Doubt is given first, or behind what is refused; as a
// Concern's or a Refusal's Kind; and as what a Kind is compared with.
func writtenKinds(f *ast.File, known func(word string) bool) (words []string) {
	add := func(e ast.Expr, sure bool) {
		if word, quoted := stringIn(e); quoted && (sure || known(word)) {
			words = append(words, word)
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			switch name := nameOf(n.Fun); {
			case (name == "Refuse" || name == "Doubt") && len(n.Args) > 0:
				add(n.Args[0], true)
			case name == "refuse":
				for _, arg := range n.Args[:min(2, len(n.Args))] {
					add(arg, false)
				}
			}
		case *ast.CompositeLit:
			name := nameOf(n.Type)
			for _, e := range n.Elts {
				pair, ok := e.(*ast.KeyValueExpr)
				if key, isName := pairKey(pair, ok); isName && key == "Kind" && slices.Contains([]string{"", "Concern", "Refusal"}, name) {
					add(pair.Value, name != "")
				}
			}
		case *ast.BinaryExpr:
			if nameOf(n.X) == "Kind" || nameOf(n.Y) == "Kind" {
				add(n.X, false)
				add(n.Y, false)
			}
		case *ast.SwitchStmt:
			if n.Tag == nil || nameOf(n.Tag) != "Kind" {
				break
			}
			for _, c := range n.Body.List {
				for _, e := range c.(*ast.CaseClause).List {
					add(e, false)
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

// Each kind has one word and is in the table of kinds.go; all code takes the constants, so that a misspelt one does not compile.
func TestKindsAreThoseOfTheTable(t *testing.T) {
	words, table := map[string]string{}, map[string]bool{}
	parsed(t, func(path string, f *ast.File) {
		if path != "measure/reading/kinds.go" && path != "vision/kind/kind.go" && !strings.HasPrefix(path, "measure/trialdir/") {
			return
		}
		given, taken := kindsIn(f)
		for name, word := range given {
			if other, twice := words[word]; twice {
				t.Errorf("%s and %s are both %q", name, other, word)
			}
			words[word] = name
			if path == "measure/reading/kinds.go" {
				table[name] = true
			}
		}
		for _, name := range taken {
			table[name] = true
		}
	})
	for word, name := range words {
		if !table[name] {
			t.Errorf("%s (%q) is not in the table of measure/reading/kinds.go", name, word)
		}
	}
	if len(words) < 70 || !table["NoCard"] || !table["OutsideTheTrial"] || !table["ReviewMissing"] { // of three rooms
		t.Errorf("%d kinds were found: this test looks in the wrong places", len(words))
	}
	parsed(t, func(path string, f *ast.File) {
		for _, word := range writtenKinds(f, func(word string) bool { return words[word] != "" }) {
			t.Errorf("%s: %q is written out: take the constant of vision/kind or of measure/reading/kinds.go", path, word)
		}
	})
}

// A kind in quotes is found wherever one is expected.
func TestKindsInQuotesAreFound(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "", `package p
		func f() {
			photo.Refuse("no kard", "remedy", "words")
			r.Doubt("blurred", "remedy", "words")
			l.refuse(f, "unreadable", "remedy", "words")
			_ = reading.Concern{Kind: "no card"}
			if c.Kind == "broken" { }
			switch c.Kind { case "too dark", reading.TooBright: }
			photo.Refuse(kind.NoCard, "remedy", "words")
			http.refuse(w, "another word")
		}`, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := writtenKinds(f, func(word string) bool { return slices.Contains([]string{"unreadable", "broken", "too dark"}, word) })
	if want := []string{"no kard", "blurred", "unreadable", "no card", "broken", "too dark"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// The views' names are written once, here, and once on the card, from which a photo's view is taken.
func TestViewsAreTheTypesOwn(t *testing.T) {
	for view, face := range map[View]card.Face{Roots: card.Roots, Shoots: card.Shoots} {
		if string(view) != face.String() {
			t.Errorf("the view %s is the face %s", view, face)
		}
	}
	names := []string{string(Roots), string(Shoots), Shoots.Words()}
	found := 0
	parsed(t, func(path string, f *ast.File) {
		if strings.HasPrefix(path, "vision/train/") { // whose tool draws one kind of picture or the other
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok {
				if word, quoted := stringIn(l); quoted && slices.Contains(names, word) {
					if found++; path != "measure/reading/view.go" && path != "vision/card/card.go" {
						t.Errorf("%s: %q is written out: take reading.Roots or reading.Shoots", path, word)
					}
				}
			}
			return true
		})
	})
	if found < 5 {
		t.Errorf("%d names of views were found: this test looks in the wrong places", found)
	}
}
