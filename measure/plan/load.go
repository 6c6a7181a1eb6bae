package plan

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"traygauge/measure/finding"
	"traygauge/measure/plan/yamlfile"
	"traygauge/measure/store"
)

// FileName is the name of the plan in a trial's folder.
const FileName = "trial.yaml"

// maxBytes is the largest plan that is read. 240 trays need some 20 kB.
const maxBytes = 1 << 20

// missing is a plan that is not there.
type missing struct{ name string }

func (m missing) Error() string {
	return fmt.Sprintf("there is no %s: give a trial’s folder, or start one with `traygauge new`", m.name)
}

func (m missing) Unwrap() error { return os.ErrNotExist }

// Load reads the plan of the trial in folder dir.
//
// The error is nil when the plan can be used; the findings are then warnings and notes. A plan with mistakes gives a nil
// Plan, all findings and a *MistakesError that names the mistakes. A file that cannot be read gives neither Plan nor findings.
func Load(dir string) (*Plan, []finding.Finding, error) {
	name := filepath.Join(dir, FileName)
	text, err := store.ReadLimited(name, maxBytes)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil, missing{name}
	}
	if info, bad := os.Stat(dir); bad == nil && !info.IsDir() {
		return nil, nil, fmt.Errorf("%s is a file: give the trial’s folder, %s", dir, filepath.Dir(dir))
	}
	if errors.Is(err, os.ErrPermission) {
		return nil, nil, fmt.Errorf("%w: check that you have permission to read it", err)
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

// Parse reads a plan from text; name stands in the findings. See Load for what is returned.
func Parse(text []byte, name string) (*Plan, []finding.Finding, error) {
	r := newReader(name)
	p := &Plan{}
	if root := r.Document(text, maxBytes); root != nil {
		p = r.plan(root)
	}
	findings, err := r.Sorted()
	if err != nil {
		return nil, findings, err
	}
	return p, findings, nil
}

// reader reads a plan.
type reader struct{ yamlfile.Reader }

func newReader(name string) *reader {
	return &reader{yamlfile.Reader{List: finding.List{File: name}, What: "the plan", Start: "`traygauge new` writes one to fill in, in a new folder: copy its trial.yaml here"}}
}
