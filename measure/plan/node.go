package plan

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// reader collects what is found while a file is read.
type reader struct {
	name     string
	findings []Finding
}

// mostFindings is how many findings are kept. A file with more is no plan with slips in it but something else.
const mostFindings = 300

// add adds a finding at a place in the file.
func (r *reader) add(s Severity, line, column int, message, remedy string) {
	switch n := len(r.findings); {
	case n > mostFindings:
		return
	case n == mostFindings:
		s, column, message, remedy = Error, 0, "there are more mistakes from here on", "fix those above first"
	}
	r.findings = append(r.findings, Finding{r.name, line, column, s, message, remedy})
}

// fail adds an error at n.
func (r *reader) fail(n *yaml.Node, remedy, format string, args ...any) {
	r.add(Error, n.Line, n.Column, fmt.Sprintf(format, args...), remedy)
}

// warn adds a warning for the whole line.
func (r *reader) warn(line int, remedy, format string, args ...any) {
	r.add(Warning, max(line, 1), 0, fmt.Sprintf(format, args...), remedy)
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" }

// shape names what n is, in the words of someone who never read the YAML standard.
func shape(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a block of names and values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "a reference (*" + short(n.Value) + ")"
	}
	switch n.ShortTag() {
	case "!!null":
		return "nothing"
	case "!!int", "!!float":
		return "the number " + short(n.Value)
	case "!!bool":
		return short(n.Value)
	case "!!timestamp":
		return "the date " + short(n.Value)
	}
	return strconv.Quote(short(n.Value))
}

// short cuts what is quoted back to a length that fits a line.
func short(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// keys tells where a mapping's keys were found.
type keys map[string]*yaml.Node

// line returns the line of key, or otherwise the line of n.
func (k keys) line(key string, n *yaml.Node) int {
	if at := k[key]; at != nil {
		return at.Line
	}
	return n.Line
}

// mapping walks the block n, called what, and hands each known key's value to its function. Keys that are unknown,
// repeated or no plain words are errors. A value that is left out (`note:`) is passed on as it is.
func (r *reader) mapping(n *yaml.Node, what string, known map[string]func(*yaml.Node)) keys {
	found := keys{}
	names, listed := sortedKeys(known), false
	r.pairs(n, what, func(key, value *yaml.Node) {
		read, ok := known[key.Value]
		if !ok {
			remedy := suggest(key.Value, names)
			if all := "available names are " + quoted(names); remedy == all && listed {
				remedy = "take it out, or use one of the names above"
			} else {
				listed = listed || remedy == all
			}
			r.fail(key, remedy, "%s has no setting %q", what, short(key.Value))
			return
		}
		found[key.Value] = key
		read(value)
	})
	return found
}

// pairs walks the names and values of block n. A name that stands there twice is an error and is passed on once.
func (r *reader) pairs(n *yaml.Node, what string, each func(key, value *yaml.Node)) {
	if n.Kind != yaml.MappingNode {
		r.fail(n, "write `name: value` lines, each two spaces further right", "%s has to be a block of names and values, but is %s", what, shape(n))
		return
	}
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if key.Kind != yaml.ScalarNode {
			r.fail(key, "write a plain word there", "a name in %s is %s", what, shape(key))
			continue
		}
		if line, twice := seen[key.Value]; twice {
			r.fail(key, "keep one of the two", "%s has %q twice, first on line %d", what, short(key.Value), line)
			continue
		}
		seen[key.Value] = key.Line
		each(key, value)
	}
}

// list walks the items of list n.
func (r *reader) list(n *yaml.Node, what string, each func(item *yaml.Node)) {
	if n.Kind != yaml.SequenceNode {
		r.fail(n, "put the items in square brackets or on lines that begin with a dash", "%s has to be a list, but is %s", what, shape(n))
		return
	}
	for _, item := range n.Content {
		each(item)
	}
}

// number reads a figure between least and most.
func (r *reader) number(n *yaml.Node, what, unit string, least, most float64) (float64, bool) {
	tag := n.ShortTag()
	v, err := strconv.ParseFloat(n.Value, 64)
	if n.Kind != yaml.ScalarNode || tag != "!!int" && tag != "!!float" || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.fail(n, "write digits without quotes or unit, and a point for decimals", "%s has to be a number%s, but is %s", what, in(unit), shape(n))
		return 0, false
	}
	if v < least || v > most {
		r.fail(n, fmt.Sprintf("it can be from %g to %g%s", least, most, after(unit)), "%s is %s", what, short(n.Value))
		return 0, false
	}
	return v, true
}

// whole reads a whole number between least and most.
func (r *reader) whole(n *yaml.Node, what string, least, most int) (int, bool) {
	v, ok := r.number(n, what, "", float64(least), float64(most))
	if ok && v != math.Trunc(v) {
		r.fail(n, "", "%s has to be a whole number, but is %s", what, short(n.Value))
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

// yes reads true or false.
func (r *reader) yes(n *yaml.Node, what string) (bool, bool) {
	if n.Kind == yaml.ScalarNode && n.ShortTag() == "!!bool" {
		return strings.EqualFold(n.Value, "true"), true
	}
	r.fail(n, "write true or false", "%s has to be true or false, but is %s", what, shape(n))
	return false, false
}

// text reads a few words of at most most characters on one line.
func (r *reader) text(n *yaml.Node, what string, most int) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() == "!!null" {
		r.fail(n, "write it after the colon", "%s has to be text, but is %s", what, shape(n))
		return "", false
	}
	s := strings.TrimSpace(n.Value)
	switch {
	case s == "":
		r.fail(n, "write it after the colon", "%s is empty", what)
	case utf8.RuneCountInString(s) > most:
		r.fail(n, fmt.Sprintf("%d characters at most", most), "%s is too long", what)
	case strings.ContainsFunc(s, unprintable):
		r.fail(n, "write it on one line with letters, digits and plain signs", "%s has a line break or an invisible character in it", what)
	default:
		return s, true
	}
	return "", false
}

func unprintable(c rune) bool { return !unicode.IsPrint(c) }

// pathLike matches what a computer could take for a way out of the trial's folder.
var pathLike = regexp.MustCompile(`^\.\.?$|\.\.[/\\]|[/\\]\.\.|^[/\\~]|^[A-Za-z]:[/\\]`)

// label reads words that name something in tables, on sheets and on labels: a title, a treatment, a product.
func (r *reader) label(n *yaml.Node, what string, most int) (string, bool) {
	s, ok := r.text(n, what, most)
	if !ok {
		return "", false
	}
	if pathLike.MatchString(s) {
		r.fail(n, "name it as you would on a label", "%s %q looks like a path on the disk", what, short(s))
		return "", false
	}
	if strings.ContainsAny(s[:1], "=+-@") {
		r.fail(n, "begin it with a letter or a digit", "%s %q would be taken for a formula by a spreadsheet", what, short(s))
		return "", false
	}
	return s, true
}

// sortedKeys returns the keys of m in alphabetical order.
func sortedKeys[V any](m map[string]V) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// wholeValue returns n's whole number, of whatever size and sign.
func wholeValue(n *yaml.Node) (int, error) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!int" {
		return 0, strconv.ErrSyntax
	}
	return strconv.Atoi(n.Value)
}
