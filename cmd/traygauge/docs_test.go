package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// docPages returns the repository's Markdown pages by their paths.
func docPages(t *testing.T) map[string]string {
	t.Helper()
	pages := map[string]string{}
	eachSource(t, func(path string, text []byte) {
		if filepath.Ext(path) == ".md" {
			pages[path] = string(text)
		}
	})
	if len(pages) < 5 {
		t.Fatalf("only %d pages were found", len(pages))
	}
	return pages
}

// eachSource calls use with each text file of the repository and its path from the repository's root.
func eachSource(t *testing.T, use func(path string, text []byte)) {
	t.Helper()
	const root = "../.."
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(root, path)
		if entry.IsDir() {
			switch name {
			case ".git", "bin", "dist", "demo-trial", "shared", "vision/train/out", ".ci/axe/node_modules":
				return fs.SkipDir
			}
			return nil
		}
		text, err := os.ReadFile(path)
		if err == nil && !bytes.ContainsRune(text, 0) {
			use(name, text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

var (
	linkTo  = regexp.MustCompile(`\]\(([^)\s]+)\)`)
	heading = regexp.MustCompile(`(?m)^#+ (.+)$`)
	fence   = regexp.MustCompile("(?ms)^ *```[a-z]*\n(.*?)^ *```")
	dropped = regexp.MustCompile(`[^\p{L}\p{N}_ -]`)
)

// anchor returns the fragment by which web views of Markdown reach a heading: lower case, hyphens for spaces, no other punctuation.
func anchor(heading string) string {
	return strings.ReplaceAll(dropped.ReplaceAllString(strings.ToLower(heading), ""), " ", "-")
}

func anchors(page string) map[string]bool {
	found := map[string]bool{}
	for _, h := range heading.FindAllStringSubmatch(fence.ReplaceAllString(page, ""), -1) {
		found[anchor(h[1])] = true
	}
	return found
}

// Every link from one page to another, to a picture or to a heading leads somewhere.
func TestLinksInPagesLeadSomewhere(t *testing.T) {
	pages := docPages(t)
	for name, page := range pages {
		for _, found := range linkTo.FindAllStringSubmatch(page, -1) {
			to := found[1]
			if strings.Contains(to, "://") {
				continue
			}
			path, fragment, _ := strings.Cut(to, "#")
			target := name
			if path != "" {
				target = filepath.Join(filepath.Dir(name), path)
			}
			if _, err := os.Stat(filepath.Join("../..", target)); err != nil {
				t.Errorf("%s links to %s: %v", name, to, err)
			} else if fragment != "" && !anchors(pages[target])[fragment] {
				t.Errorf("%s links to %s: %s has no such heading", name, to, target)
			}
		}
	}
}

// Whoever opens the overview should read it to its end.
func TestOverviewIsShort(t *testing.T) {
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if n := len(strings.Fields(string(page))); n > 1200 {
		t.Errorf("README.md has %d words, at most 1,200 are wanted: move some to vision, measure or report", n)
	}
}

// Each command line shown in a page is one that the program understands.
func TestCommandsInPagesExist(t *testing.T) {
	shown := regexp.MustCompile(`(?m)^(?:[a-z]+ \d+ \| parallel ')?traygauge ([^'\n#|]+)`)
	seen := 0
	for name, page := range docPages(t) {
		for _, block := range fence.FindAllStringSubmatch(page, -1) {
			for _, line := range shown.FindAllStringSubmatch(block[1], -1) {
				seen++
				root := newRootCommand(&streams{})
				cmd, args, err := root.Find(strings.Fields(line[1]))
				if err != nil || cmd == root {
					t.Errorf("%s shows %q: no such command", name, line[0])
					continue
				}
				for _, arg := range args {
					flag, _, _ := strings.Cut(strings.TrimPrefix(arg, "--"), "=")
					if strings.HasPrefix(arg, "--") && cmd.Flags().Lookup(flag) == nil {
						t.Errorf("%s shows %q: there is no %s", name, line[0], arg)
					}
				}
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d command lines were found", seen)
	}
}

// Help shows what a value stands for, not how the program holds it.
func TestHelpShowsNoTypes(t *testing.T) {
	internal := regexp.MustCompile(`(?m)^ +(?:-\w, )?--[\w-]+ (?:string|strings|stringArray|int|uint|float|float64|duration|count)\b.*$|.*\(default -1\).*`)
	commands := newRootCommand(&streams{}).Commands()
	for len(commands) > 0 {
		cmd := commands[0]
		commands = append(commands[1:], cmd.Commands()...)
		if line := internal.FindString(cmd.UsageString()); line != "" {
			t.Errorf("%s --help: %s", cmd.CommandPath(), line)
		}
	}
}
