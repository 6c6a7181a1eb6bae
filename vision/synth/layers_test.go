package synth

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const project, home = "traygauge/", "traygauge/vision/synth"

// A mistake of one style of drawing must not hide in another, or in what measures. So each style imports nothing of the project but its
// own rooms and closeup, which says what a drawing holds; the scenes also read the card's geometry. A style's rooms are nobody else's.
func TestStylesShareNoCode(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		files++
		within, err := filepath.Rel(root, filepath.Dir(name))
		if err != nil {
			return err
		}
		from := path.Join(strings.TrimSuffix(project, "/"), filepath.ToSlash(within))
		for _, spec := range parsed.Imports {
			to, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if strings.HasPrefix(to, project) && !mayImport(from, to) {
				t.Errorf("%s imports %s", from, to)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 100 {
		t.Errorf("only %d files looked at", files)
	}
}

func mayImport(from, to string) bool {
	own, other := styleOf(from), styleOf(to)
	switch {
	case own == "" && other == "": // neither draws
		return true
	case own == "": // from outside, a style is its one function
		return path.Dir(to) == home || to == home
	case own == "painted":
		return other == own || to == home+"/closeup" || to == "traygauge/vision/card"
	default:
		return other == own || to == home+"/closeup"
	}
}

// styleOf is the style that a package draws in, "" for a package that draws in none.
func styleOf(pkg string) string {
	rest, ok := strings.CutPrefix(pkg, home)
	if !ok {
		return ""
	}
	style, _, _ := strings.Cut(strings.TrimPrefix(rest, "/"), "/")
	if style == "" { // synth itself puts the painted scenes together
		return "painted"
	}
	return style
}

func TestStyleOf(t *testing.T) {
	for pkg, want := range map[string]string{home: "painted", home + "/painted/num": "painted", home + "/relief/roots": "relief", "traygauge/vision/card": ""} {
		if got := styleOf(pkg); got != want {
			t.Errorf("%s draws in %q, want %q", pkg, got, want)
		}
	}
	allowed := []bool{
		mayImport(home+"/relief", home+"/brush"), mayImport(home+"/relief", home+"/relief/num"), mayImport(home+"/relief/num", "traygauge/vision/raster"),
		mayImport("traygauge/vision/train/draw", home+"/relief"), mayImport("traygauge/vision/train/draw", home+"/relief/num"),
		mayImport(home, "traygauge/vision/scene"), mayImport(home, "traygauge/vision/card"),
	}
	if want := []bool{false, true, false, true, false, false, true}; !slices.Equal(allowed, want) {
		t.Errorf("imports are allowed as %v, want %v", allowed, want)
	}
}
