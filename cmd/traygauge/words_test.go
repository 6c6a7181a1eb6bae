package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// notUsed returns the terms in code type in the last column of DEVELOPERS.md's word list.
func notUsed(t *testing.T) *regexp.Regexp {
	t.Helper()
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, list, found := strings.Cut(string(page), "| word | means | not used |")
	if !found {
		t.Fatal("DEVELOPERS.md has no word list")
	}
	list, _, _ = strings.Cut(list, "\n\n")
	var terms []string
	for _, row := range strings.Split(list, "\n") {
		cells := strings.Split(strings.TrimSuffix(row, "|"), "|")
		for _, term := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cells[len(cells)-1], -1) {
			terms = append(terms, regexp.QuoteMeta(term[1]))
		}
	}
	if len(terms) < 10 {
		t.Fatalf("only %d terms in the word list", len(terms))
	}
	return regexp.MustCompile(`(?i)\b(` + strings.Join(terms, "|") + `)\b`)
}

// What the word list does not use is in no string and no comment. The list itself and data from elsewhere are left out, and so are vision's
// comments.
func TestWordsNotUsed(t *testing.T) {
	not := notUsed(t)
	eachSource(t, func(path string, text []byte) {
		path = filepath.ToSlash(path)
		in := func(place string) bool { return strings.HasPrefix(path, place) }
		if in("DEVELOPERS.md") || in("testdata/refs/") {
			return
		}
		if filepath.Ext(path) == ".go" {
			text = prose(t, path, text, !in("vision/"))
		} else if in("vision/") && filepath.Ext(path) != ".md" {
			return
		}
		for i, line := range strings.Split(string(text), "\n") {
			if term := not.FindString(line); term != "" {
				t.Errorf("%s:%d: %q is not used, see the word list in DEVELOPERS.md: %.150s", path, i+1, term, strings.TrimSpace(line))
			}
		}
	})
}

// straight is an apostrophe as a typewriter has it, within a word or behind a plural.
var straight = regexp.MustCompile(`\pL'\pL|s' \pL`)

// What people read has one kind of apostrophe, ’. The other one is for quotes in code, YAML and shells; comments, tests and what drawings are called
// in tests may have it.
func TestApostrophesAreOfOneKind(t *testing.T) {
	seen := 0
	eachSource(t, func(path string, text []byte) {
		path = filepath.ToSlash(path)
		switch {
		case strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "vision/train/") || strings.HasPrefix(path, "vision/synth/"):
			return
		case filepath.Ext(path) == ".go":
			text = prose(t, path, text, false)
		case filepath.Ext(path) != ".html":
			return
		}
		seen += bytes.Count(text, []byte("’"))
		for i, line := range strings.Split(string(text), "\n") {
			if at := straight.FindStringIndex(line); at != nil {
				t.Errorf("%s:%d: write ’ for the apostrophe: %.150s", path, i+1, strings.TrimSpace(line))
			}
		}
	})
	if seen < 100 {
		t.Errorf("%d apostrophes were found: this test looks in the wrong places", seen)
	}
}

// prose blanks all of a Go file but its strings and, where wanted, its comments.
func prose(t *testing.T, path string, text []byte, comments bool) []byte {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, text, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	kept := bytes.Repeat([]byte(" "), len(text))
	for i, c := range text {
		if c == '\n' {
			kept[i] = c
		}
	}
	keep := func(at token.Pos, words string) { copy(kept[files.Position(at).Offset:], words) }
	ast.Inspect(file, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
			keep(l.Pos(), l.Value)
		}
		return true
	})
	for _, group := range file.Comments {
		for _, c := range group.List {
			if comments {
				keep(c.Pos(), c.Text)
			}
		}
	}
	return kept
}
