package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// fourTreatments has three trays of each of four treatments, three against the first: in blocks as blocks says tray by tray, 0 for none.
func fourTreatments(blocks [12]int) (*plan.Plan, []reading.Reading) {
	p := testtrial.Plan()
	p.Treatments, p.Trays = []plan.Treatment{{Name: "plain"}}, nil
	for _, name := range []string{"a", "b", "c"} {
		p.Treatments = append(p.Treatments, plan.Treatment{Name: name, CompareWith: []string{"plain"}})
	}
	const day = 17
	r := rand.New(rand.NewPCG(7, 22))
	var all []reading.Reading
	for i, block := range blocks {
		tray := i + 1
		p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: p.Treatments[i/3].Name, Block: block})
		var roots, leaves []reading.Plug
		on := (1 + 0.2*float64(i/3)) * math.Exp(0.1*r.NormFloat64()+0.05*float64(block))
		for k := range 40 {
			name := fmt.Sprintf("%c%d", 'A'+k/10, 1+k%10)
			size := float64(day) * on * math.Exp(0.3*r.NormFloat64())
			root, leaf := testtrial.RootPlug(name, size, 5+4*r.Float64()), testtrial.LeafPlug(name, 12*size, 3+2*r.Float64())
			leaf.LeafHueDeg = reading.Number(118 + 0.5*on + 3*r.NormFloat64())
			if r.Float64() < 0.1 {
				root.RootAreaMM2, root.RootCoverPct, root.RootLengthMM = 0, 0, 0
				leaf = testtrial.NoPlug(name, reading.Empty)
			}
			roots, leaves = append(roots, root), append(leaves, leaf)
		}
		shoots := testtrial.Reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, "shoots", testtrial.Taken(day, 9, tray), leaves...)
		shoots.CanopyCoverPct = reading.Number(on * float64(day))
		all = append(all, shoots, testtrial.Reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, "roots", testtrial.Taken(day, 10, tray), roots...))
	}
	return p, all
}

// R over trays.csv gives what comparisons.csv holds, to the digits of both: over the bench, in complete blocks of four trays, and in incomplete blocks of
// two, in which each pair of treatments meets once.
func TestRMakesTheSameOfTraysCSV(t *testing.T) {
	if _, err := exec.LookPath("Rscript"); err != nil {
		t.Skip("R is not installed")
	}
	for name, blocks := range map[string][12]int{"bench": {}, "complete blocks": {1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3}, "incomplete blocks": {1, 2, 3, 1, 4, 5, 2, 4, 6, 3, 5, 6}} {
		p, readings := fourTreatments(blocks)
		compared := compare.Of(p, readings, nil, compare.Options{})
		dir := t.TempDir()
		var trays, comparisons bytes.Buffer
		if err := WriteTraysCSV(&trays, Collect(p, readings)); err != nil {
			t.Fatal(err)
		}
		if err := WriteComparisonsCSV(&comparisons, compared); err != nil {
			t.Fatal(err)
		}
		for file, text := range map[string][]byte{"trays.csv": trays.Bytes(), "comparisons.csv": comparisons.Bytes()} {
			if err := os.WriteFile(filepath.Join(dir, file), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		out, err := exec.Command("Rscript", "../testdata/refs/trays/trays.R", dir).Output()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		again, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		ours := map[string]map[string]string{}
		for _, c := range tableOf(t, func(w *bytes.Buffer) error { return WriteComparisonsCSV(w, compared) }) {
			ours[c["day"]+c["quantity"]+c["treatment"]+c["control"]] = c
		}
		for _, r := range again[1:] {
			c := ours[r[0]+r[1]+r[2]+r[3]]
			of := "difference"
			if c["ratio"] != "" {
				of = "ratio"
			}
			for i, column := range []string{of, of + "_lower_95", of + "_upper_95", "p_unadjusted", "p_adjusted", "df"} {
				want, got := numberIn(r[4+i]), numberIn(c[column])
				if of == "difference" && i < 3 && c["unit"] == "%" {
					want = math.Max(-100, math.Min(100, want))
				}
				if !(math.Abs(got-want) <= 6e-5*math.Max(1, math.Abs(want))) {
					t.Errorf("%s, %s of %s on day %s: %s is %s, by R %s", name, r[1], r[2], r[0], column, c[column], r[4+i])
				}
			}
		}
		if len(again)-1 != 9*3 {
			t.Errorf("%s: R worked out %d comparisons, want 27", name, len(again)-1)
		}
	}
}
