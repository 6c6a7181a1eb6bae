package stats

import (
	"bufio"
	"math"
	"math/big"
	"os"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/stats/published"
)

// nistNames are the one-way sets of NIST's Statistical Reference Datasets in testdata/refs/nist_anova, three of 18 009 values left out.
var nistNames = []string{"SiRstv", "SmLs01", "SmLs02", "AtmWtAg", "SmLs04", "SmLs05", "SmLs07", "SmLs08"}

// correctDigits is NIST's log relative error, −log₁₀(|got − certified|/|certified|), at most the 15 digits certified.
func correctDigits(got, certified float64) float64 {
	return min(15, -math.Log10(math.Abs(got-certified)/math.Abs(certified)))
}

// The certified sums of squares and F. What a float64 can hold bounds what can be reached: SmLs07 and SmLs08 differ in the fourteenth digit,
// and reading "1000000000000.4" already loses all but 4 digits of the variation. Read about a centre (ParseCentred), nothing is lost.
func TestCertifiedOneWayResults(t *testing.T) {
	var certified map[string]struct {
		F         float64
		SSBetween float64 `json:"ss_between"`
		SSWithin  float64 `json:"ss_within"`
		RSquared  float64 `json:"r_squared"`
		SD        float64 `json:"residual_sd"`
		DFBetween int     `json:"df_between"`
		DFWithin  int     `json:"df_within"`
	}
	published.ReadJSON(t, "nist_anova/certified.json", &certified)
	plain := map[string]float64{"SiRstv": 13, "SmLs01": 14, "SmLs02": 14, "AtmWtAg": 10, "SmLs04": 9.5, "SmLs05": 9.5, "SmLs07": 3.5, "SmLs08": 3.5}
	for _, name := range nistNames {
		labels, texts := readNIST(t, name)
		want := certified[name]
		for _, way := range []string{"as float64", "about a centre"} {
			values, least := []float64{}, 14.0
			if way == "as float64" {
				least = plain[name]
				for _, s := range texts {
					values = append(values, published.Number(t, s))
				}
			} else {
				var err error
				if values, _, err = ParseCentred(texts); err != nil {
					t.Fatal(err)
				}
			}
			var groups []Group
			for i, v := range values {
				groups = addValue(groups, labels[i], v)
			}
			a, err := oneWay(groups)
			if err != nil {
				t.Fatal(err)
			}
			if a.DFBetween != want.DFBetween || a.DFWithin != want.DFWithin {
				t.Errorf("%s: df %d, %d", name, a.DFBetween, a.DFWithin)
			}
			digits := []float64{correctDigits(a.F, want.F), correctDigits(a.SSBetween, want.SSBetween), correctDigits(a.SSWithin, want.SSWithin),
				correctDigits(a.EtaSquared, want.RSquared), correctDigits(a.SDPooled, want.SD)}
			t.Logf("%-8s %-14s correct digits of F %.1f, SS between %.1f, SS within %.1f, R² %.1f, SD %.1f", name, way, digits[0], digits[1], digits[2], digits[3], digits[4])
			if slices.Min(digits) < least {
				t.Errorf("%s %s: fewer than %v digits are right", name, way, least)
			}
			if way == "as float64" {
				if exact := correctDigits(a.F, exactF(groups)); exact < 13 {
					t.Errorf("%s: only %.1f digits of what the float64 values' exact F is", name, exact)
				}
			}
		}
	}
}

// exactF is F in exact fractions of the values as they are: what rounding in the arithmetic is judged by, apart from rounding in reading.
func exactF(groups []Group) float64 {
	rat := func(i int) *big.Rat { return new(big.Rat).SetInt64(int64(i)) }
	all, n := new(big.Rat), 0
	var sums []*big.Rat
	for _, g := range groups {
		s := new(big.Rat)
		for _, v := range g.Values {
			s.Add(s, new(big.Rat).SetFloat64(v))
		}
		sums, n = append(sums, s), n+len(g.Values)
		all.Add(all, s)
	}
	mean := new(big.Rat).Quo(all, rat(n))
	between, within := new(big.Rat), new(big.Rat)
	for i, g := range groups {
		m := new(big.Rat).Quo(sums[i], rat(len(g.Values)))
		d := new(big.Rat).Sub(m, mean)
		between.Add(between, d.Mul(d, d).Mul(d, rat(len(g.Values))))
		for _, v := range g.Values {
			e := new(big.Rat).SetFloat64(v)
			e.Sub(e, m)
			within.Add(within, e.Mul(e, e))
		}
	}
	f := between.Quo(between, rat(len(groups)-1))
	f.Quo(f, within.Quo(within, rat(n-len(groups))))
	v, _ := f.Float64()
	return v
}

// readNIST reads the labels and the decimal texts from line 61 on.
func readNIST(t *testing.T, name string) (labels, texts []string) {
	t.Helper()
	f, err := os.Open(published.RefPath("nist_anova/" + name + ".dat"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for line := 1; lines.Scan(); line++ {
		if fields := strings.Fields(lines.Text()); line > 60 && len(fields) == 2 {
			labels, texts = append(labels, fields[0]), append(texts, fields[1])
		}
	}
	return labels, texts
}
