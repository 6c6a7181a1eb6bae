package stats

import (
	"math"
	"testing"

	"traygauge/measure/stats/dist"
	"traygauge/measure/stats/published"
)

// power.t.test(strict=TRUE), power.anova.test and their inverses of R 4.2.2; Dunnett's comparison by R's noncentral pt.
func TestPowerAgreesWithR(t *testing.T) {
	var refs struct {
		T []struct {
			N                       float64 `json:"n_per_group"`
			Delta, SD, Alpha, Power float64
		} `json:"power_t"`
		N []struct {
			Delta, SD, Power, Alpha float64
			N                       float64 `json:"n_per_group_real"`
		} `json:"n_for_power_t"`
		Delta []struct {
			N                float64 `json:"n_per_group"`
			SD, Power, Alpha float64
			Delta            float64 `json:"detectable_delta"`
		} `json:"detectable_delta_t"`
		Anova []struct {
			N                float64 `json:"n_per_group"`
			Means            []float64
			SD, Alpha, Power float64
		} `json:"power_anova"`
		AnovaN []struct {
			Means            []float64
			SD, Power, Alpha float64
			N                float64 `json:"n_per_group_real"`
		} `json:"n_for_power_anova"`
		Dunnett []struct {
			K     int     `json:"k_treatments"`
			Units int     `json:"trays_per_treatment"`
			Delta float64 `json:"delta"`
			SDU   float64 `json:"sd_tray"`
			SDW   float64 `json:"sd_plug"`
			M     int     `json:"plugs_per_tray"`
			Mean  float64 `json:"sd_tray_mean"`
			Power float64 `json:"power_of_that_comparison"`
		} `json:"power_dunnett_comparison"`
	}
	published.ReadJSON(t, "tables/power.json", &refs)
	for _, r := range refs.T {
		published.Near(t, "power of t", PowerT(r.N, r.Delta, r.SD, r.Alpha), r.Power, 1e-10, 0)
	}
	for _, r := range refs.N {
		n, err := ReplicatesT(r.Delta, r.SD, r.Power, r.Alpha)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "n of t", n, r.N, 0, 1e-7)
	}
	for _, r := range refs.Delta {
		d, err := DetectableT(r.N, r.SD, r.Power, r.Alpha)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "detectable by t", d, r.Delta, 0, 1e-7)
	}
	for _, r := range refs.Anova {
		published.Near(t, "power of F", PowerANOVA(r.Means, r.N, r.SD, r.Alpha), r.Power, 1e-9, 0) // where R's noncentral beta stops
	}
	for _, r := range refs.AnovaN {
		n, err := ReplicatesANOVA(r.Means, r.SD, r.Power, r.Alpha)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "power at R's n", PowerANOVA(r.Means, r.N, r.SD, r.Alpha), r.Power, 1e-6, 0) // uniroot's tolerance in R
		published.Near(t, "n of F", n, r.N, 0, 1e-5)
	}
	for _, r := range refs.Dunnett {
		d := Design{r.K, r.Units, r.M, r.SDU, r.SDW}
		published.Near(t, "SD of a mean", d.SDMean(), r.Mean, 0, 1e-12)
		p, err := PowerDunnett(d, r.Delta, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "power of Dunnett's comparison", p, r.Power, 1e-9, 0)
		delta, err := DetectableDunnett(d, r.Power, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "and back", delta, r.Delta, 0, 1e-7)
	}
}

// What a comparison could show is what planning with its own standard deviation says.
func TestDetectableOfAComparisonIsWhatPlanningSays(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	a, err := OneWay(groups)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Dunnett(groups, "ctrl", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	want, err := DetectableDunnett(Design{Treatments: 2, Units: 10, PerUnit: 1, SDUnit: a.SDPooled}, 0.8, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "detectable", c.All[0].Detectable(0.8), want, 0, 1e-9)
	if ranks, _ := RankPairs(groups, 0.95); !math.IsNaN(ranks.All[0].Detectable(0.8)) {
		t.Error("ranks have a standard error")
	}
}

// The same plugs on more trays show less of a difference only if trays differ; a single tray shows none.
func TestSplittingOverMoreUnits(t *testing.T) {
	whole := Design{Treatments: 3, Units: 2, PerUnit: 48, SDUnit: 0.1, SDWithin: 0.3}
	last := math.Inf(1)
	for _, units := range []int{2, 3, 4, 6, 8} {
		d, err := whole.Split(units)
		if err != nil {
			t.Fatal(err)
		}
		if d.Units*d.PerUnit != 96 {
			t.Errorf("%+v holds other than 96 values", d)
		}
		delta, err := DetectableDunnett(d, 0.8, 0.05)
		if err != nil || !(delta < last) {
			t.Errorf("%d units show %v, fewer show %v; %v", units, delta, last, err)
		}
		last = delta
	}
	one, _ := whole.Split(1)
	if _, err := DetectableDunnett(one, 0.8, 0.05); err == nil {
		t.Error("one unit a treatment shows a difference")
	}
	if _, err := whole.Split(97); err == nil {
		t.Error("96 values lie on 97 units")
	}
}

// λ = 0 is the central F; and a noncentral F with one numerator degree of freedom is the square of a noncentral t.
func TestNoncentralF(t *testing.T) {
	for _, x := range []float64{0.3, 1, 4, 20} {
		published.Near(t, "central", dist.NoncentralF{D1: 3, D2: 8, Lambda: 0}.Survival(x), dist.UpperF(x, 3, 8), 1e-12, 0)
		for _, mu := range []float64{0.5, 2, 6} {
			published.Near(t, "t²", dist.NoncentralF{D1: 1, D2: 8, Lambda: mu * mu}.Survival(x), beyond(math.Sqrt(x), 8, mu), 1e-10, 0)
		}
	}
	if v := (dist.NoncentralF{D1: 0, D2: 8, Lambda: 1}).CDF(1); !math.IsNaN(v) {
		t.Errorf("no degrees of freedom: %v", v)
	}
}

func TestPowerOfNonsenseIsRefused(t *testing.T) {
	for what, p := range map[string]float64{
		"one value": PowerT(1, 1, 1, 0.05), "no spread": PowerT(5, 1, 0, 0.05), "alpha": PowerT(5, 1, 1, 0), "one mean": PowerANOVA([]float64{1}, 5, 1, 0.05),
	} {
		if !math.IsNaN(p) {
			t.Errorf("%s: power %v", what, p)
		}
	}
	for what, f := range map[string]func() (float64, error){
		"no difference":      func() (float64, error) { return ReplicatesT(0, 1, 0.8, 0.05) },
		"equal means":        func() (float64, error) { return ReplicatesANOVA([]float64{2, 2, 2}, 1, 0.8, 0.05) },
		"power of 1":         func() (float64, error) { return DetectableT(5, 1, 1, 0.05) },
		"no spread":          func() (float64, error) { return DetectableDunnett(Design{2, 3, 10, 0, 0}, 0.8, 0.05) },
		"NaN":                func() (float64, error) { return DetectableDunnett(Design{2, 3, 10, math.NaN(), 1}, 0.8, 0.05) },
		"no treatment":       func() (float64, error) { return PowerDunnett(Design{0, 3, 10, 1, 1}, 1, 0.05) },
		"false alarms of 2":  func() (float64, error) { return PowerDunnett(Design{2, 3, 10, 1, 1}, 1, 2) },
		"t of one replicate": func() (float64, error) { return DetectableT(1, 1, 0.8, 0.05) },
	} {
		if v, err := f(); err == nil || !math.IsNaN(v) {
			t.Errorf("%s: %v, %v", what, v, err)
		}
	}
}
