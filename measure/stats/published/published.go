// Package published reads the reference tables in testdata/refs for tests: published data and the results of other programs.
//
//	in    a test, and a table's name
//	out   its figures
//
// It must not depend on what is tested. Only tests import it.
package published

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// RefPath is a file of testdata/refs, which is looked for in the test's folder and those above it; its README.md names every source.
func RefPath(name string) string {
	up := "."
	for range 6 {
		if _, err := os.Stat(filepath.Join(up, "testdata", "refs")); err == nil {
			break
		}
		up = filepath.Join(up, "..")
	}
	return filepath.Join(up, "testdata", "refs", name)
}

// ReadJSON reads testdata/refs/NAME.
func ReadJSON(t *testing.T, name string, into any) {
	t.Helper()
	raw, err := os.ReadFile(RefPath(name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// ReadCSV reads testdata/refs/NAME as one map a row, by column name.
func ReadCSV(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(RefPath(name))
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

func Number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Near fails unless got is within abs or, relatively, within rel of want.
func Near(t *testing.T, what string, got, want, abs, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= max(abs, rel*math.Abs(want))) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}
