package raster

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// table reads testdata/refs/NAME as one map a row, by column name; a blank is NaN. Words are left out.
func table(t *testing.T, name string) (rows []map[string]float64) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "refs", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		row := map[string]float64{}
		for i, word := range line {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				row[lines[0][i]] = v
			} else if word == "" {
				row[lines[0][i]] = math.NaN()
			}
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func TestLabOfKnownColours(t *testing.T) {
	worst := 0.0
	for _, r := range table(t, "srgb_lab_d65.csv") {
		got := LabOf(RGB{LinearOf[int(r["R"])], LinearOf[int(r["G"])], LinearOf[int(r["B"])]})
		for what, d := range map[string]float64{"L": got.L - r["L"], "a": got.A - r["a"], "b": got.B - r["b"], "C": got.Chroma() - r["C_ab"]} {
			worst = math.Max(worst, math.Abs(d))
			if !(math.Abs(d) <= 0.005) {
				t.Errorf("%v %v %v: %s is off by %g", r["R"], r["G"], r["B"], what, d)
			}
		}
		if r["C_ab"] < 1 {
			continue // a grey's hue means nothing
		}
		if d := math.Abs(got.HueDeg() - r["h_ab_deg"]); !(math.Min(d, 360-d) <= 0.02) {
			t.Errorf("%v %v %v: hue %v°, want %v°", r["R"], r["G"], r["B"], got.HueDeg(), r["h_ab_deg"])
		}
	}
	t.Logf("worst difference in L, a, b or C: %.2g", worst)
}

func TestLinearLightOfEveryCode(t *testing.T) {
	for _, r := range table(t, "srgb_inverse_256.csv") {
		code := int(r["code"])
		if l := ToLinear(float64(code) / 255); !(math.Abs(l-r["linear"]) < 1e-14) {
			t.Errorf("code %d is %v, want %v", code, l, r["linear"])
		}
		if got := float64(LinearOf[code]); !(math.Abs(got-r["linear"]) < 1e-7) {
			t.Errorf("the table has %v for code %d, want %v", got, code, r["linear"])
		}
		if back := math.Round(255 * FromLinear(r["linear"])); int(back) != code {
			t.Errorf("code %d comes back as %v", code, back)
		}
	}
}

func TestDarkGreenIndexOfKnownColours(t *testing.T) {
	for _, r := range table(t, "dgci_exg.csv") {
		got, want := dgci(r["R"]/255, r["G"]/255, r["B"]/255), r["dgci"]
		if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-12 {
			t.Errorf("%v %v %v: %v, want %v", r["R"], r["G"], r["B"], got, want)
		}
	}
}
