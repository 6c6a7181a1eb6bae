package stats

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// refPath is a file of testdata/refs; its README.md there names every source.
func refPath(name string) string { return filepath.Join("..", "..", "testdata", "refs", name) }

// readJSON reads testdata/refs/NAME.
func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	raw, err := os.ReadFile(refPath(name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// readCSV reads testdata/refs/NAME as one map a row, by column name.
func readCSV(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(refPath(name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near fails unless got is within abs or, relatively, within rel of want.
func near(t *testing.T, what string, got, want, abs, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= max(abs, rel*math.Abs(want))) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}
