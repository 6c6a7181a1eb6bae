package leastsquares

import (
	"math"
	"testing"

	"traygauge/measure/stats/published"
)

// R's rstudent of published data (testdata/refs/places) needs residuals, leverages and degrees of freedom all three:
// e/√(s²·(1 − h)) with s² = (Σe² − e²/(1 − h))/(df − 1).
func TestLinearAgainstR(t *testing.T) {
	for name, log := range map[string]bool{"detergent": false, "orchard": true} {
		var want struct {
			DF       int
			RStudent []float64
		}
		published.ReadJSON(t, "places/"+name+".json", &want)
		rows := published.ReadCSV(t, "places/"+name+".csv")
		y := make([]float64, len(rows))
		ones := make([]float64, len(rows))
		columns := [][]float64{ones}
		for _, kind := range []string{"block", "row", "column", "treatment"} {
			levels := map[string][]float64{}
			for i, row := range rows {
				if row[kind] != "" && levels[row[kind]] == nil { // one column a level: the first of each kind too many
					levels[row[kind]] = make([]float64, len(rows))
					columns = append(columns, levels[row[kind]])
				}
				if row[kind] != "" {
					levels[row[kind]][i] = 1
				}
			}
		}
		for i, row := range rows {
			if ones[i], y[i] = 1, published.Number(t, row["value"]); log {
				y[i] = math.Log(y[i])
			}
		}
		m := New(columns)
		if m.DF != want.DF {
			t.Fatalf("%s: %d degrees of freedom, want %d", name, m.DF, want.DF)
		}
		residuals, h := m.Residuals(y), m.Leverages()
		squared := dot(residuals, residuals)
		for i, e := range residuals {
			s2 := (squared - e*e/(1-h[i])) / float64(m.DF-1)
			published.Near(t, name+": studentised residual", e/math.Sqrt(s2*(1-h[i])), want.RStudent[i], 1e-9, 1e-9)
		}
	}
}

// Of columns 1, x and 1 + 2x the last says nothing new. y = 3 + 2x is fitted exactly: the weights of l = (1, 5, 0) give 3 + 2·5 = 13, and a
// mean of n values has a weight of 1/n for each.
func TestLinearByHand(t *testing.T) {
	m := New([][]float64{{1, 1, 1, 1}, {0, 1, 2, 3}, {1, 3, 5, 7}})
	if m.DF != 2 || m.Kept[2] || !m.Kept[1] {
		t.Fatalf("%+v", m)
	}
	sum := 0.0
	for i, w := range m.Weights([]float64{1, 5, 0}) {
		sum += w * (3 + 2*float64(i))
	}
	published.Near(t, "at x = 5", sum, 13, 1e-12, 0)
	for _, w := range New([][]float64{{1, 1, 1, 1}}).Weights([]float64{1}) {
		published.Near(t, "weight in a mean", w, 0.25, 1e-15, 0)
	}
}

// Two values of a group mirror each other, of three none does, and one alone is taken as it is.
func TestMirrors(t *testing.T) {
	m := New([][]float64{{1, 1, 0, 0, 0, 0}, {0, 0, 1, 1, 1, 0}, {0, 0, 0, 0, 0, 1}})
	for i, want := range []int{0, 0, 2, 3, 4, -1} {
		if got := m.Mirrors()[i]; got != want {
			t.Errorf("value %d mirrors %d, want %d", i, got, want)
		}
	}
}
