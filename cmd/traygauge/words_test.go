package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
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

// notYet are the rooms whose words are still to be gone through.
var notYet = []string{"measure/compare/", "measure/stats/", "report/workbook", "report/page", "report/picture", "report/trial.go", "measure/blind/blind.go", "cmd/traygauge/report.go"}

// What the word list does not use is in no string and no comment. The list itself and data from elsewhere are left out, and so are vision's
// comments.
func TestWordsNotUsed(t *testing.T) {
	not := notUsed(t)
	eachSource(t, func(path string, text []byte) {
		path = filepath.ToSlash(path)
		in := func(place string) bool { return strings.HasPrefix(path, place) }
		switch {
		case in("DEVELOPERS.md"), in("testdata/refs/"), slices.ContainsFunc(notYet, in):
			return
		case in("vision/") && filepath.Ext(path) != ".md":
			text = onlyStrings(path, text)
		}
		for i, line := range strings.Split(string(text), "\n") {
			if term := not.FindString(line); term != "" {
				t.Errorf("%s:%d: %q is not used, see the word list in DEVELOPERS.md: %.150s", path, i+1, term, strings.TrimSpace(line))
			}
		}
	})
}

// onlyStrings blanks all of a Go file but its strings; other files become empty.
func onlyStrings(path string, text []byte) []byte {
	if filepath.Ext(path) != ".go" {
		return nil
	}
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, text, 0)
	if err != nil {
		return text
	}
	kept := []byte(strings.Repeat(" ", len(text)))
	for i, c := range text {
		if c == '\n' {
			kept[i] = c
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
			copy(kept[files.Position(l.Pos()).Offset:], l.Value)
		}
		return true
	})
	return kept
}
