package yamlfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
)

// plainText checks what YAML's own messages explain badly: size, character encoding and tabs. It takes off a byte order
// mark.
func (r *Reader) plainText(text []byte, mostBytes int) ([]byte, bool) {
	if len(text) > mostBytes {
		r.Add(finding.Error, 1, 0, fmt.Sprintf("%s is too large: the limit is %d MiB", r.What, mostBytes>>20), "remove what does not belong to "+r.What)
		return nil, false
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for i, line := range bytes.Split(text, []byte("\n")) {
		if at := bytes.IndexByte(line, 0); at >= 0 && utf8.Valid(line) && bytes.Count(line, []byte{0}) < len(line)/4 {
			r.Add(finding.Error, i+1, at+1, "the file contains a NUL byte, which is not text", "delete it, or restore the file from a copy if a crash damaged it")
			return nil, false
		}
		if !utf8.Valid(line) || bytes.IndexByte(line, 0) >= 0 {
			r.Add(finding.Error, i+1, 0, "this is not UTF-8 text", "save the file as UTF-8, plain text")
			return nil, false
		}
		indent := line[:len(line)-len(bytes.TrimLeft(line, " \t"))]
		if at := bytes.IndexByte(indent, '\t'); at >= 0 && len(bytes.TrimSpace(line)) > 0 {
			r.Add(finding.Error, i+1, at+1, "a tab is used for indentation", "indent with spaces, two for each level")
		}
	}
	return text, len(r.Found) == 0
}

// Document returns the topmost node of the only document in text, or nil after saying why there is none.
func (r *Reader) Document(text []byte, mostBytes int) *yaml.Node {
	text, ok := r.plainText(text, mostBytes)
	if !ok {
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var first, second yaml.Node
	err := dec.Decode(&first)
	if errors.Is(err, io.EOF) || err == nil && (len(first.Content) == 0 || IsNull(first.Content[0])) {
		r.Add(finding.Error, 1, 0, r.What+" is empty", r.Start)
		return nil
	}
	if err != nil {
		r.syntax(text, err)
		return nil
	}
	switch err := dec.Decode(&second); {
	case err == nil:
		r.Add(finding.Error, max(second.Line, 1), 0, "a second YAML document begins here", r.What+" must be one document: remove the line ---")
	case !errors.Is(err, io.EOF):
		r.syntax(text, err)
	}
	return first.Content[0]
}

// yamlLine takes apart the YAML library's messages.
var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(?s:(.*))$`)

// syntax adds the YAML library's message. The library names the line on which a block began or ended, often far from the mistake, so
// the line given is the first one that the text cannot be read past.
func (r *Reader) syntax(text []byte, err error) {
	line, words := libraryMessage(err)
	if at, there := firstUnreadable(text); at > 0 {
		line = at
		_, words = libraryMessage(there)
	}
	r.Add(finding.Error, line, 0, "this is not valid YAML ("+words+")",
		"check this line and the lines around it for a missing colon, quote or bracket, for a # or a colon inside a name that is not in quotes, and for list items that are not indented alike")
}

// libraryMessage returns the line, from 1, and the words of the YAML library's error.
func libraryMessage(err error) (int, string) {
	line, words := 1, strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		words = m[2]
		if n, err := strconv.Atoi(m[1]); err == nil {
			line = max(n, 1)
		}
	}
	return line, words
}

// mostSearched is the longest text, in bytes, that is read again line by line to find a mistake.
const mostSearched = 64 << 10

// firstUnreadable returns the line, from 1, after the longest beginning of text that is valid YAML, and what is wrong there; 0 if text is
// too long to search.
func firstUnreadable(text []byte) (int, error) {
	if len(text) > mostSearched {
		return 0, nil
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	var wrong error
	for end := len(text); len(lines) > 0; lines = lines[:len(lines)-1] {
		var node yaml.Node
		err := yaml.Unmarshal(text[:end], &node)
		if err == nil {
			break
		}
		wrong, end = err, end-len(lines[len(lines)-1])
	}
	return len(lines) + 1, wrong
}
