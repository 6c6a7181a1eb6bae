package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// replicatedTrial has three trays per treatment on two days, with plugs that did not come up, plants under their neighbours, error
// bars, and trays that agree better in some quantities than their plugs allow.
func replicatedTrial() (*plan.Plan, []reading.Reading) {
	p := testtrial.Plan()
	p.Treatments = p.Treatments[:2]
	p.Trays = nil
	r := rand.New(rand.NewPCG(3, 14))
	var all []reading.Reading
	for tray := 1; tray <= 6; tray++ {
		treatment, more := p.Treatments[0].Name, 1.0
		if tray > 3 {
			treatment, more = p.Treatments[1].Name, 1.5
		}
		p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: treatment, Position: 7 - tray})
		for _, day := range []int{10, 17} {
			var roots, leaves []reading.Plug
			on := more * math.Exp(0.1*r.NormFloat64())
			for i := range 40 {
				name := fmt.Sprintf("%c%d", 'A'+i/10, 1+i%10)
				size := float64(day) * on * math.Exp(0.3*r.NormFloat64())
				root, leaf := testtrial.RootPlug(name, size, 5+r.Float64()), testtrial.LeafPlug(name, 12*size, 3+r.Float64())
				leaf.LeafHueDeg = reading.Number(118 + 3*r.NormFloat64())
				switch {
				case i%13 == tray%13: // no plant: 0 mm² of root
					root.RootAreaMM2, root.RootCoverPct, root.RootLengthMM = 0, 0, 0
					leaf = testtrial.NoPlug(name, reading.Empty)
				case day == 17 && i == 5:
					leaf = testtrial.NoPlug(name, reading.Hidden)
					leaf.Flags = []string{"under neighbours"}
				}
				roots, leaves = append(roots, root), append(leaves, leaf)
			}
			shoots := testtrial.Reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, "shoots", testtrial.Taken(day, 9, tray), leaves...)
			shoots.CanopyCoverPct = reading.Number(on * float64(day))
			all = append(all, shoots, testtrial.Reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, "roots", testtrial.Taken(day, 10, tray), roots...))
		}
	}
	return p, all
}

// csvRows is a CSV file by its columns' names.
type csvRows []map[string]string

func tableOf(t *testing.T, write func(*bytes.Buffer) error) (rows csvRows) {
	t.Helper()
	var text bytes.Buffer
	if err := write(&text); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&text).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, name := range records[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func numberIn(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// What `compare` says of a treatment follows from trays.csv alone, by a t test as any textbook has it: logarithms of sizes, the pooled
// variance of trays, never below the mean of their squared standard errors, and where it is below that, with the plugs' degrees of
// freedom. A plug in which nothing came up is in no mean.
func TestComparisonsFollowFromTraysCSV(t *testing.T) {
	p, readings := replicatedTrial()
	trial, compared := Collect(p, readings), compare.Of(p, readings, nil, compare.Options{})
	trays := tableOf(t, func(w *bytes.Buffer) error { return WriteTraysCSV(w, trial) })
	comparisons := tableOf(t, func(w *bytes.Buffer) error { return WriteComparisonsCSV(w, compared) })
	columns := map[string]string{outcome.RootArea: "root_area_mean_mm2", outcome.RootLength: "root_length_mean_mm", outcome.RootCover: "root_cover_mean_pct",
		outcome.RootBrowning: "root_browning_mean_pct", outcome.LeafArea: "leaf_area_mean_mm2", outcome.CanopyCover: "canopy_cover_pct", outcome.Chlorotic: "chlorotic_mean_pct",
		outcome.LeafHue: "leaf_hue_mean_deg", outcome.DarkGreen: "dgci_mean", outcome.RootToShoot: "root_area_per_leaf_area", outcome.RootUneven: "root_area_cv_pct",
		outcome.LeafUneven: "leaf_area_cv_pct", outcome.RootGrowth: "root_growth_pct_per_day", outcome.LeafGrowth: "leaf_growth_pct_per_day"}
	worked, floored := map[string]int{}, 0
	for _, c := range comparisons {
		column, ok := columns[c["quantity"]]
		if !ok || c["ratio"]+c["difference"] == "" {
			continue
		}
		of, low, high := "difference", "difference_lower_95", "difference_upper_95"
		if c["ratio"] != "" {
			of, low, high = "ratio", "ratio_lower_95", "ratio_upper_95"
		}
		onScale := func(v float64) float64 {
			if of == "ratio" {
				return math.Log(v)
			}
			return v
		}
		back := func(v float64) float64 {
			if of == "ratio" {
				return math.Exp(v)
			}
			return v
		}
		name, unit, _ := strings.Cut(column, "_mean")
		se, n := name+"_mean_se"+unit, name+"_n"
		if name == column { // derived
			cut := strings.LastIndex(column, "_pct")
			name, unit = column, ""
			if cut > 0 {
				name, unit = column[:cut], column[cut:]
			}
			se, n = name+"_se"+unit, name+"_n"
		}
		means := map[string][]float64{}
		within, seen, plugs := 0.0, 0, 0.0
		for _, row := range trays {
			v := numberIn(row[column])
			if row["day"] != c["day"] || math.IsNaN(v) {
				continue
			}
			means[row["treatment"]] = append(means[row["treatment"]], onScale(v))
			if s := numberIn(row[se]); !math.IsNaN(s) {
				if of == "ratio" {
					s /= v
				}
				within, seen, plugs = within+s*s, seen+1, plugs+numberIn(row[n])-1
			}
		}
		a, b := means[c["treatment"]], means[c["control"]]
		if len(a) != 3 || len(b) != 3 {
			t.Fatalf("%s on day %s: %d trays against %d", c["quantity"], c["day"], len(a), len(b))
		}
		center := func(xs []float64) (mean, squares float64) {
			for _, x := range xs {
				mean += x / float64(len(xs))
			}
			for _, x := range xs {
				squares += (x - mean) * (x - mean)
			}
			return mean, squares
		}
		ma, sa := center(a)
		mb, sb := center(b)
		df := 4.0
		variance := (sa + sb) / df
		if seen > 0 && variance < within/float64(seen) {
			variance, df = within/float64(seen), df+plugs
			floored++
		}
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(0.975) * math.Sqrt(variance*2/3)
		for _, end := range []struct {
			name string
			want float64
		}{{of, back(ma - mb)}, {low, back(ma - mb - half)}, {high, back(ma - mb + half)}} {
			want := end.want
			if of == "difference" && c["unit"] == "%" {
				want = math.Max(-100, math.Min(100, want))
			}
			if got := numberIn(c[end.name]); math.Abs(got-want) > 6e-5*math.Max(1, math.Abs(want)) {
				t.Errorf("%s on day %s: %s is %s, from the table of trays %.6f", c["quantity"], c["day"], end.name, c[end.name], want)
			}
		}
		worked[c["quantity"]]++
	}
	if len(worked) != len(columns) || floored == 0 {
		t.Errorf("worked out: %v, %d of them by their floor", worked, floored)
	}
	bare := tableOf(t, func(w *bytes.Buffer) error { return WritePlugsCSV(w, trial) })
	if !slices.ContainsFunc(bare, func(r map[string]string) bool { return r["root_area_mm2"] == "0.00" && r["remarks"] == NoPlant }) {
		t.Error("no plug of 0 mm² says that it counts nowhere")
	}
}
