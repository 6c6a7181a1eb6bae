package stats

import (
	"math"
	"slices"
	"testing"

	"traygauge/measure/stats/dist"
	"traygauge/measure/stats/published"
)

// sdOfMean is the standard deviation of a tray's mean of m plugs.
func sdOfMean(sdTray, sdPlug float64, m int) float64 {
	return math.Sqrt(sdTray*sdTray + sdPlug*sdPlug/float64(m))
}

// dunnettShows returns the power of a comparison with the control, one of k treatments on so many trays each, by Dunnett's critical value at
// 5 %; and the difference in standard errors that it shows with a given power.
func dunnettShows(k, trays int, differenceSE, power float64) (shown, detectable float64) {
	df := float64((k + 1) * (trays - 1))
	critical := dist.ManyToOne(trays, slices.Repeat([]int{trays}, k), df).UpperQuantile(0.05)
	return beyond(critical, df, differenceSE), Noncentrality(critical, df, power)
}

// power.t.test(strict=TRUE) of R 4.2.2: noncentral t with 2(n−1) degrees of freedom and δ/(σ√(2/n)); Dunnett's comparison by R's noncentral pt.
func TestPowerAgreesWithR(t *testing.T) {
	var refs struct {
		T []struct {
			N                       float64 `json:"n_per_group"`
			Delta, SD, Alpha, Power float64
		} `json:"power_t"`
		Delta []struct {
			N                float64 `json:"n_per_group"`
			SD, Power, Alpha float64
			Delta            float64 `json:"detectable_delta"`
		} `json:"detectable_delta_t"`
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
		df := 2 * (r.N - 1)
		published.Near(t, "power of t", beyond(dist.TwoSidedTQuantile(r.Alpha, df), df, r.Delta/r.SD*math.Sqrt(r.N/2)), r.Power, 1e-10, 0)
	}
	for _, r := range refs.Delta {
		df := 2 * (r.N - 1)
		published.Near(t, "detectable by t", Noncentrality(dist.TwoSidedTQuantile(r.Alpha, df), df, r.Power)*r.SD*math.Sqrt(2/r.N), r.Delta, 0, 1e-7)
	}
	for _, r := range refs.Dunnett {
		sd := sdOfMean(r.SDU, r.SDW, r.M)
		published.Near(t, "SD of a mean", sd, r.Mean, 0, 1e-12)
		se := sd * math.Sqrt(2/float64(r.Units))
		shown, detectable := dunnettShows(r.K, r.Units, r.Delta/se, r.Power)
		published.Near(t, "power of Dunnett's comparison", shown, r.Power, 1e-9, 0)
		published.Near(t, "and back", detectable*se, r.Delta, 0, 1e-7)
	}
}

// What a comparison could show follows from its own standard deviation.
func TestDetectableOfAComparison(t *testing.T) {
	groups := readGroups(t, "oneway/plantgrowth.csv")
	a, err := oneWay(groups)
	if err != nil {
		t.Fatal(err)
	}
	c, err := dunnett(groups, "ctrl", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	_, want := dunnettShows(2, 10, 0, 0.8)
	published.Near(t, "detectable", c.All[0].detectable(0.8), want*a.SDPooled*math.Sqrt(2.0/10), 0, 1e-9)
	if ranks, _ := RankPairs(groups, 0.95); !math.IsNaN(ranks.All[0].detectable(0.8)) {
		t.Error("ranks have a standard error")
	}
}

func TestPowerOfNonsenseIsNaN(t *testing.T) {
	for what, got := range map[string]float64{
		"power of 0": Noncentrality(2, 8, 0), "power of 1": Noncentrality(2, 8, 1), "power NaN": Noncentrality(2, 8, math.NaN()), "no degrees of freedom": Noncentrality(2, 0, 0.8),
		"no critical value": Noncentrality(math.NaN(), 8, 0.8), "df NaN": beyond(2, math.NaN(), 1),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: %v", what, got)
		}
	}
}
