package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// FileName is the name of the plan in a trial's folder.
const FileName = "trial.yaml"

// MaxBytes is the largest plan that is read. 240 trays need some 20 kB.
const MaxBytes = 1 << 20

// missing is a plan that is not there.
type missing struct{ name string }

func (m missing) Error() string {
	return fmt.Sprintf("there is no %s: name a trial's folder, or start one with `traygauge new`", m.name)
}

func (m missing) Unwrap() error { return os.ErrNotExist }

// Load reads the plan of the trial in folder dir.
//
// The error is nil when the plan can be used; the findings are then warnings and notes. A plan with mistakes gives a nil
// Plan, all findings and a *MistakesError that names the mistakes. A file that cannot be read gives neither Plan nor findings.
func Load(dir string) (*Plan, []Finding, error) {
	name := filepath.Join(dir, FileName)
	text, err := readLimited(name, MaxBytes)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil, missing{name}
	}
	if info, bad := os.Stat(dir); bad == nil && !info.IsDir() {
		return nil, nil, fmt.Errorf("%s is a file: name the trial's folder, %s", dir, filepath.Dir(dir))
	}
	if errors.Is(err, os.ErrPermission) {
		return nil, nil, fmt.Errorf("%w: check that you may read it", err)
	}
	if err != nil {
		return nil, nil, err
	}
	p, findings, err := Parse(text, FileName)
	if p == nil || err != nil {
		return p, findings, err
	}
	if p.Lenses, err = LoadLenses(dir); err != nil {
		return nil, nil, err
	}
	return p, findings, nil
}

// readLimited reads the regular file called name, and no more than one byte above limit. A link must not lead out of the file's
// folder: a trial that came by mail must not make this computer's other files part of its plan.
func readLimited(name string, limit int64) ([]byte, error) {
	if leadsOut(name) {
		return nil, fmt.Errorf("%s is a link to something outside the trial's folder: put the file itself there", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a file: put the trial's plan there", name)
	}
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return text, nil
}

// leadsOut reports whether name, with all links followed, lies outside its folder. What is not there leads nowhere.
func leadsOut(name string) bool {
	real, err := filepath.EvalSymlinks(name)
	if err != nil {
		return false
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(name))
	if err != nil {
		return false
	}
	below, err := filepath.Rel(dir, real)
	return err != nil || !filepath.IsLocal(below)
}

// Parse reads a plan from text; name stands in the findings. See Load for what is returned.
func Parse(text []byte, name string) (*Plan, []Finding, error) {
	r := &reader{name: name}
	p := &Plan{}
	if text, ok := r.plainText(text); ok {
		if root := r.document(text); root != nil {
			p = r.plan(root)
		}
	}
	sortFindings(r.findings)
	if err := newMistakesError(name, r.findings); err != nil {
		return nil, r.findings, err
	}
	return p, r.findings, nil
}

// plainText checks what YAML's own messages explain badly: size, character encoding and tabs. It takes off a byte order
// mark.
func (r *reader) plainText(text []byte) ([]byte, bool) {
	if len(text) > MaxBytes {
		r.add(Error, 1, 0, "the plan is too large: the limit is 1 MiB", "remove what does not belong to the plan")
		return nil, false
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for i, line := range bytes.Split(text, []byte("\n")) {
		if at := bytes.IndexByte(line, 0); at >= 0 && utf8.Valid(line) && bytes.Count(line, []byte{0}) < len(line)/4 {
			r.add(Error, i+1, at+1, "there is a NUL byte, which does not belong in text", "delete it, or restore the file from a copy if a crash damaged it")
			return nil, false
		}
		if !utf8.Valid(line) || bytes.IndexByte(line, 0) >= 0 {
			r.add(Error, i+1, 0, "this is not UTF-8 text", "save the file as UTF-8, plain text")
			return nil, false
		}
		indent := line[:len(line)-len(bytes.TrimLeft(line, " \t"))]
		if at := bytes.IndexByte(indent, '\t'); at >= 0 && len(bytes.TrimSpace(line)) > 0 {
			r.add(Error, i+1, at+1, "a tab before the text", "use spaces, two for each step to the right")
		}
	}
	return text, len(r.findings) == 0
}

// document returns the only document's topmost node, or nil after saying why there is none.
func (r *reader) document(text []byte) *yaml.Node {
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var first, second yaml.Node
	err := dec.Decode(&first)
	if errors.Is(err, io.EOF) || err == nil && (len(first.Content) == 0 || isNull(first.Content[0])) {
		r.add(Error, 1, 0, "the plan is empty", "`traygauge new` writes one to fill in")
		return nil
	}
	if err != nil {
		r.syntax(err)
		return nil
	}
	switch err := dec.Decode(&second); {
	case err == nil:
		r.add(Error, max(second.Line, 1), 0, "a second document begins here", "a plan is one document: take out the line ---")
	case !errors.Is(err, io.EOF):
		r.syntax(err)
	}
	return first.Content[0]
}

// yamlLine takes apart the YAML library's messages.
var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(?s:(.*))$`)

// syntax adds the YAML library's complaint at the line that it names.
func (r *reader) syntax(err error) {
	line, words := 1, strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		words = m[2]
		if n, err := strconv.Atoi(m[1]); err == nil {
			line = max(n, 1)
		}
	}
	r.add(Error, line, 0, "this cannot be read as YAML ("+words+")",
		"look here and in the lines next to it for a missing colon, quote or bracket, or for lines of one list that start at different columns")
}
