// Package yamlfile reads hand-written YAML. Each mistake is reported with its line and a remedy.
//
//	in    a file's text; for each block the names that it may have, and what reads each
//	out   values with their limits kept, and findings by line
//
// It must not depend on what the values mean.
package yamlfile

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
	"traygauge/measure/wording"
)

// Reader walks a file that people wrote and collects what it finds there.
type Reader struct {
	finding.List
	What  string // the file is, as in "the plan"
	Start string // how to begin one, said of an empty file
}

// Fail adds an error at n.
func (r *Reader) Fail(n *yaml.Node, remedy, format string, args ...any) {
	r.Add(finding.Error, n.Line, n.Column, fmt.Sprintf(format, args...), remedy)
}

// IsNull reports whether a value was left out.
func IsNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" }

// Shape names what n is, in the words of someone who never read the YAML standard.
func Shape(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a block of names and values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "a reference (*" + finding.Short(n.Value) + ")"
	}
	switch n.ShortTag() {
	case "!!null":
		return "blank"
	case "!!int", "!!float":
		return "the number " + finding.Short(n.Value)
	case "!!bool":
		return finding.Short(n.Value)
	case "!!timestamp":
		return "the date " + finding.Short(n.Value)
	}
	return strconv.Quote(finding.Short(n.Value))
}

// Keys tells where a mapping's keys were found.
type Keys map[string]*yaml.Node

// Line returns the line of key, or otherwise the line of n.
func (k Keys) Line(key string, n *yaml.Node) int {
	if at := k[key]; at != nil {
		return at.Line
	}
	return n.Line
}

// Mapping walks the block n, called what, and hands each known key's value to its function. Keys that are unknown,
// repeated or no plain words are errors. A value that is left out (`note:`) is passed on as it is.
func (r *Reader) Mapping(n *yaml.Node, what string, known map[string]func(*yaml.Node)) Keys {
	found := Keys{}
	names, listed := slices.Sorted(maps.Keys(known)), false
	r.Pairs(n, what, func(key, value *yaml.Node) {
		read, ok := known[key.Value]
		if !ok {
			remedy := finding.Suggest(key.Value, names)
			if all := "use one of " + finding.Quoted(names); remedy == all && listed {
				remedy = "remove it, or use one of the names above"
			} else {
				listed = listed || remedy == all
			}
			r.Fail(key, remedy, "%s has no setting %q", what, finding.Short(key.Value))
			return
		}
		found[key.Value] = key
		read(value)
	})
	return found
}

// Pairs walks the names and values of block n. A name that stands there twice is an error and is passed on once.
func (r *Reader) Pairs(n *yaml.Node, what string, each func(key, value *yaml.Node)) {
	if n.Kind != yaml.MappingNode {
		r.Fail(n, "write `name: value` lines, each indented by two more spaces", "%s must be a block of names and values, not %s", what, Shape(n))
		return
	}
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if key.Kind != yaml.ScalarNode {
			r.Fail(key, "write a plain word there", "%s contains a name that is %s", what, Shape(key))
			continue
		}
		if line, twice := seen[key.Value]; twice {
			r.Fail(key, "keep one of the two", "%s has %q twice, first on line %d", what, finding.Short(key.Value), line)
			continue
		}
		seen[key.Value] = key.Line
		each(key, value)
	}
}

// Items walks the items of list n.
func (r *Reader) Items(n *yaml.Node, what string, each func(item *yaml.Node)) {
	if n.Kind != yaml.SequenceNode {
		r.Fail(n, "put the items in square brackets, or on separate lines that start with a dash", "%s must be a list, not %s", what, Shape(n))
		return
	}
	for _, item := range n.Content {
		each(item)
	}
}

// Number reads a figure between least and most.
func (r *Reader) Number(n *yaml.Node, what, unit string, least, most float64) (float64, bool) {
	tag := n.ShortTag()
	v, err := strconv.ParseFloat(n.Value, 64)
	if n.Kind != yaml.ScalarNode || tag != "!!int" && tag != "!!float" || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.Fail(n, "write only digits, without quotes or units, with a point for decimals", "%s must be a number%s, not %s", what, in(unit), Shape(n))
		return 0, false
	}
	if v < least || v > most {
		r.Fail(n, fmt.Sprintf("use a value from %g to %g%s", least, most, after(unit)), "%s is %s", what, finding.Short(n.Value))
		return 0, false
	}
	return v, true
}

// Whole reads a whole number between least and most.
func (r *Reader) Whole(n *yaml.Node, what string, least, most int) (int, bool) {
	v, ok := r.Number(n, what, "", float64(least), float64(most))
	if ok && v != math.Trunc(v) {
		r.Fail(n, "", "%s must be a whole number, not %s", what, finding.Short(n.Value))
		return 0, false
	}
	return int(v), ok
}

func in(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

func after(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// YesNo reads true or false.
func (r *Reader) YesNo(n *yaml.Node, what string) (bool, bool) {
	if n.Kind == yaml.ScalarNode && n.ShortTag() == "!!bool" {
		return strings.EqualFold(n.Value, "true"), true
	}
	r.Fail(n, "write true or false", "%s must be true or false, not %s", what, Shape(n))
	return false, false
}

// Text reads a few words of at most most characters on one line.
func (r *Reader) Text(n *yaml.Node, what string, most int) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() == "!!null" {
		r.Fail(n, "write it after the colon", "%s must be text, not %s", what, Shape(n))
		return "", false
	}
	s := strings.TrimSpace(n.Value)
	switch {
	case s == "":
		r.Fail(n, "write it after the colon", "%s is empty", what)
	case utf8.RuneCountInString(s) > most:
		r.Fail(n, fmt.Sprintf("%d characters at most", most), "%s is too long", what)
	case strings.ContainsFunc(s, wording.Unprintable):
		r.Fail(n, "write it on one line with letters, digits and plain signs", "%s contains a line break or an invisible character", what)
	default:
		return s, true
	}
	return "", false
}

// pathLike matches what a computer could take for a way out of the trial's folder.
var pathLike = regexp.MustCompile(`^\.\.?$|\.\.[/\\]|[/\\]\.\.|^[/\\~]|^[A-Za-z]:[/\\]`)

// Label reads words that name something in tables, on sheets and on labels: a title, a treatment, a product.
func (r *Reader) Label(n *yaml.Node, what string, most int) (string, bool) {
	s, ok := r.Text(n, what, most)
	if !ok {
		return "", false
	}
	if pathLike.MatchString(s) {
		r.Fail(n, "use a name as you would write it on a label", "%s %q looks like a file path", what, finding.Short(s))
		return "", false
	}
	if wording.FormulaLike(s) {
		r.Fail(n, "start it with a letter or a digit", "a spreadsheet would read %s %q as a formula", what, finding.Short(s))
		return "", false
	}
	return s, true
}

// WholeValue returns n's whole number, of whatever size and sign.
func WholeValue(n *yaml.Node) (int, error) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!int" {
		return 0, strconv.ErrSyntax
	}
	return strconv.Atoi(n.Value)
}
