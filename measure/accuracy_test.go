package measure

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"
	"time"

	"traygauge/measure/reading"
)

// truthFile is what both our own scenes and other drawn photos say of themselves. Areas in mm², lengths in mm.
type truthFile struct {
	Face       string               `json:"face"`
	LeafHeight float64              `json:"leaf_height_mm"`
	Tags       []string             `json:"tags"`
	Cells      map[string]truthCell `json:"cells"`
}

type truthCell struct {
	Present   bool    `json:"present"`
	Plug      float64 `json:"plug_area_mm2"`
	Root      float64 `json:"root_area_mm2"`
	Brown     float64 `json:"brown_root_area_mm2"`
	Length    float64 `json:"root_length_mm"`
	Leaf      float64 `json:"leaf_area_mm2"`
	Chlorotic float64 `json:"chlorotic_area_mm2"`
}

// found is one figure of one plug beside its truth; U is the expanded uncertainty, NaN where none is given.
type found struct {
	kind         string
	got, true, u float64
}

// judgedQuantity is a column of the accuracy tables. Truths below least are in the bias but in no plug's error: they have none in per
// cent that means anything.
type judgedQuantity struct {
	name  string
	least float64
	of    func(p reading.Plug, c truthCell) (got, true, u float64)
	found []found
}

func rootQuantities() []*judgedQuantity {
	return []*judgedQuantity{
		{name: "root area", least: 20, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.RootAreaMM2), c.Root, float64(p.RootAreaUMM2)
		}},
		{name: "brown area", least: 10, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.RootBrowningPct) / 100 * float64(p.RootAreaMM2), c.Brown, float64(p.RootBrownUPct) / 100 * float64(p.RootAreaMM2)
		}},
		{name: "length", least: 50, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.RootLengthMM), c.Length, float64(p.RootLengthUMM)
		}},
		{name: "plug area", least: 50, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.PlugAreaMM2), c.Plug, float64(p.PlugAreaUMM2)
		}},
	}
}

func leafQuantities() []*judgedQuantity {
	return []*judgedQuantity{
		{name: "leaf area", least: 10, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.LeafAreaMM2), c.Leaf, float64(p.LeafAreaUMM2)
		}},
		{name: "yellowed area", least: 10, of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.ChloroticPct) / 100 * float64(p.LeafAreaMM2), c.Chlorotic, float64(p.ChlorUPct) / 100 * float64(p.LeafAreaMM2)
		}},
		{name: "yellow share, points", least: math.Inf(1), of: func(p reading.Plug, c truthCell) (float64, float64, float64) {
			return float64(p.ChloroticPct), 100 * c.Chlorotic / c.Leaf, float64(p.ChlorUPct)
		}},
	}
}

// accuracyTable compares plugs with their truth, by kind of photo.
type accuracyTable struct {
	quantities []*judgedQuantity
	kinds      []string // in their order
	refused    []string // photos that were to be taken again, with why
	doubted    []string
	trouble    []string // plugs found where there are none, or the other way round
	empties    int
}

// add compares one photo's reading with its truth.
func (a *accuracyTable) add(photo, kind string, r reading.Reading, truth truthFile) {
	if !slices.Contains(a.kinds, kind) {
		a.kinds = append(a.kinds, kind)
	}
	for _, c := range r.Concerns {
		list := &a.doubted
		if c.Fatal {
			list = &a.refused
		}
		*list = append(*list, photo+": "+string(c.Kind))
	}
	if r.Fatal() {
		return
	}
	for _, p := range r.Plugs {
		c, ok := truth.Cells[p.Name]
		switch {
		case !ok:
			a.trouble = append(a.trouble, fmt.Sprintf("%s: no truth for %s", photo, p.Name))
		case p.State == reading.Hidden:
		case !c.Present:
			a.empties++
			if p.State != reading.Empty {
				a.trouble = append(a.trouble, fmt.Sprintf("%s: %s is empty and was read as %s", photo, p.Name, p.State))
			}
		case p.State == reading.Empty:
			a.trouble = append(a.trouble, fmt.Sprintf("%s: %s was read as empty", photo, p.Name))
		default:
			for _, q := range a.quantities {
				if got, want, u := q.of(p, c); !math.IsNaN(got) && !math.IsNaN(want) {
					q.found = append(q.found, found{kind, got, want, u})
				}
			}
		}
	}
}

// summary is what the tables say of one quantity and kind.
type summaryOfKind struct {
	plugs             int
	bias, median, p95 float64 // %
	covered, medianU  float64 // share of truths inside U, %; U over the value, %
	pointsP95         float64 // of differences that are points already
	sumTrue, sumGot   float64
}

func (q *judgedQuantity) over(kind string) (s summaryOfKind) {
	var errs, us, points []float64
	inside := 0
	for _, f := range q.found {
		if kind != "" && f.kind != kind {
			continue
		}
		s.plugs++
		s.sumGot, s.sumTrue = s.sumGot+f.got, s.sumTrue+f.true
		if math.Abs(f.got-f.true) <= f.u {
			inside++
		}
		points = append(points, math.Abs(f.got-f.true))
		if f.true >= q.least {
			errs = append(errs, 100*math.Abs(f.got/f.true-1))
			us = append(us, 100*f.u/f.got)
		}
	}
	if s.bias = math.NaN(); s.sumTrue > 0 {
		s.bias = 100 * (s.sumGot/s.sumTrue - 1)
	}
	s.median, s.p95 = quantileOf(errs, 0.5), quantileOf(errs, 0.95)
	s.medianU, s.pointsP95 = quantileOf(us, 0.5), quantileOf(points, 0.95)
	s.covered = 100 * float64(inside) / float64(max(1, s.plugs))
	return s
}

func quantileOf(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[int(q*float64(len(s)-1)+0.5)]
}

// String prints a table for each quantity: a line for each kind of photo, and one for all.
func (a *accuracyTable) String() string {
	var b strings.Builder
	for _, q := range a.quantities {
		fmt.Fprintf(&b, "\n%-28s %6s %8s %8s %8s %9s %9s\n", q.name, "plugs", "bias", "median", "95th", "truths", "median")
		fmt.Fprintf(&b, "%-28s %6s %8s %8s %8s %9s %9s\n", "", "", "", "error", "error", "inside U", "U/value")
		for _, kind := range append(slices.Clone(a.kinds), "") {
			s := q.over(kind)
			name := kind
			if kind == "" {
				name = "ALL"
			}
			if s.plugs == 0 {
				continue
			}
			if math.IsInf(q.least, 1) {
				fmt.Fprintf(&b, "%-28s %6d %8s %8s %8.1f %8.0f%%\n", name, s.plugs, "", "", s.pointsP95, s.covered)
				continue
			}
			fmt.Fprintf(&b, "%-28s %6d %8s %8s %8s %8.0f%% %9s\n", name, s.plugs, dash("%+.1f%%", s.bias), dash("%.1f%%", s.median), dash("%.1f%%", s.p95), s.covered, dash("%.0f%%", s.medianU))
		}
	}
	list := func(title string, items []string) {
		if len(items) > 0 {
			fmt.Fprintf(&b, "%s: %s\n", title, strings.Join(items, "; "))
		}
	}
	fmt.Fprintf(&b, "empty cells: %d\n", a.empties)
	list("to be taken again", a.refused)
	list("doubted", a.doubted)
	list("wrongly empty or planted", a.trouble)
	return b.String()
}

// madePhotos adds photos that another program drew, which are not part of the project; it returns how many there are.
func madePhotos(t *testing.T, roots, leaves *accuracyTable) (n int) {
	t.Helper()
	photos, _ := filepath.Glob(filepath.Join("..", "..", "shared", "photos", "made", "*.jpg"))
	for _, f := range photos {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var truth truthFile
		text, err := os.ReadFile(strings.TrimSuffix(f, ".jpg") + ".truth.json")
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &truth); err != nil {
			t.Fatal(err)
		}
		r := One(raw, time.Time{}, fiftyTray(truth.LeafHeight), reading.Given{}, nil)
		name := strings.TrimSuffix(filepath.Base(f), ".jpg")
		if string(r.View) != truth.Face {
			t.Errorf("%s: read as %s", name, r.View)
		}
		to := roots
		if truth.Face == "shoots" {
			to = leaves
		}
		to.add(name, name, r, truth)
	}
	return len(photos)
}

// Whatever its light, lens and roots, a photo's areas must stay within these over the plugs of its kind, in %. The tables print how far
// from them they are.
const (
	mostRootBias = 15.0
	mostLeafBias = 20.0 // plant labels are partly taken for leaf
)

func (a *accuracyTable) check(t *testing.T, most float64) {
	t.Helper()
	for _, kind := range a.kinds {
		if s := a.quantities[0].over(kind); s.plugs > 0 && !(math.Abs(s.bias) <= most) {
			t.Errorf("%s: %s is off by %+.1f %%", kind, a.quantities[0].name, s.bias)
		}
	}
}
