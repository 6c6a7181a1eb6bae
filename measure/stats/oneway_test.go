package stats

import (
	"testing"

	"traygauge/measure/stats/published"
)

// onewayRefs is what testdata/refs/oneway/NAME_results.json holds: results of R 4.2.2 (multcomp 1.4-22, car 3.1-1) on open data.
type onewayRefs struct {
	Groups []struct {
		Group                          string
		N                              int
		Mean, SD, SE, Median, Min, Max float64
		CVPct                          float64 `json:"cv_pct"`
		Lower                          float64 `json:"ci95_lower"`
		Upper                          float64 `json:"ci95_upper"`
	}
	Anova       anovaRef
	Welch       FTest `json:"welch_anova"`
	Bartlett    struct{ Statistic, DF, P float64 }
	LeveneMean  FTest                              `json:"levene_mean"`
	Brown       FTest                              `json:"brown_forsythe_median"`
	Shapiro     struct{ W, P float64 }             `json:"shapiro_residuals"`
	Kruskal     struct{ Statistic, DF, P float64 } `json:"kruskal_wallis"`
	Tukey       []pairRef
	Dunnett     dunnettRef
	GamesHowell []pairRef     `json:"games_howell"`
	Pooled      []pairwiseRef `json:"pairwise_t_pooled"`
	Separate    []pairwiseRef `json:"pairwise_t_welch"`
	Fieller     []struct {
		Group               string
		Ratio, Lower, Upper float64
		Bounded             bool
	} `json:"fieller_ratio_unadjusted"`
	Log struct {
		Undefined string
		Groups    []struct {
			Group         string
			MeanLog       float64 `json:"mean_log"`
			SDLog         float64 `json:"sd_log"`
			GeometricMean float64 `json:"geometric_mean"`
			CVPct         float64 `json:"geometric_cv_pct"`
			Lower         float64 `json:"gm_ci95_lower"`
			Upper         float64 `json:"gm_ci95_upper"`
		}
		Anova        anovaRef
		Dunnett      dunnettRef
		DunnettRatio []ratioRef `json:"dunnett_ratio"`
		TukeyRatio   []ratioRef `json:"tukey_ratio"`
	} `json:"log_scale"`
}

type anovaRef struct {
	DFBetween    int     `json:"df_between"`
	DFWithin     int     `json:"df_within"`
	SSBetween    float64 `json:"ss_between"`
	SSWithin     float64 `json:"ss_within"`
	MSBetween    float64 `json:"ms_between"`
	MSWithin     float64 `json:"ms_within"`
	F, P         float64
	SDPooled     float64 `json:"s_pooled"`
	EtaSquared   float64 `json:"eta_squared"`
	OmegaSquared float64 `json:"omega_squared"`
}

type pairRef struct {
	A, B               string
	Diff, Lower, Upper float64
	PAdj               float64 `json:"p_adj"`
	SE                 float64 `json:"se_welch"`
	T, DF              float64
}

type pairwiseRef struct {
	A, B       string
	Raw        float64 `json:"p_raw"`
	Holm       float64 `json:"p_holm"`
	Bonferroni float64 `json:"p_bonferroni"`
	BH         float64 `json:"p_bh"`
}

type ratioRef struct {
	Group, A, B         string
	Ratio, Lower, Upper float64
	PAdj                float64 `json:"p_adj"`
}

type dunnettRef struct {
	Control      string
	DF, Critical float64
	Comparisons  []struct {
		Group                         string
		Estimate, SE, T, Lower, Upper float64
		P                             float64 `json:"p_unadjusted"`
		PAdj                          float64 `json:"p_adj"`
		PAdjMultcomp                  float64 `json:"p_adj_multcomp"`
	}
}

// onewayNames are the data sets of testdata/refs/oneway with one factor; its README.md says where each comes from.
var onewayNames = []string{"plantgrowth", "insectsprays", "dunnett1955", "chickweight_day21", "chickweight_rgr"}

// eachOneway reads the data and the reference results of each set.
func eachOneway(t *testing.T, test func(t *testing.T, groups []Group, r onewayRefs)) {
	for _, name := range onewayNames {
		t.Run(name, func(t *testing.T) {
			var r onewayRefs
			published.ReadJSON(t, "oneway/"+name+"_results.json", &r)
			test(t, readGroups(t, "oneway/"+name+".csv"), r)
		})
	}
}

// readGroups reads a table of group,value.
func readGroups(t *testing.T, name string) (groups []Group) {
	for _, row := range published.ReadCSV(t, name) {
		groups = addValue(groups, row["group"], published.Number(t, row["value"]))
	}
	return groups
}

// addValue puts v into the group called name, which is made if there is none.
func addValue(groups []Group, name string, v float64) []Group {
	for i := range groups {
		if groups[i].Name == name {
			groups[i].Values = append(groups[i].Values, v)
			return groups
		}
	}
	return append(groups, Group{name, []float64{v}})
}

// R's and our double precision take different ways: 12 digits agree. Shares of p below are R's own accuracy.
const (
	relR = 1e-11
	absR = 1e-13
)

func TestSummariesAgreeWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		for i, want := range r.Groups {
			got := describe(groups[i], 0.95)
			if got.Group != want.Group || got.N != want.N {
				t.Fatalf("%+v, want %+v", got, want)
			}
			for what, v := range map[string][2]float64{
				"mean": {got.Mean, want.Mean}, "SD": {got.SD, want.SD}, "CV": {got.CVPct, want.CVPct}, "SE": {got.SE, want.SE}, "lower": {got.Lower, want.Lower},
				"upper": {got.Upper, want.Upper}, "median": {got.Median, want.Median}, "min": {got.Min, want.Min}, "max": {got.Max, want.Max},
			} {
				published.Near(t, want.Group+" "+what, v[0], v[1], absR, relR)
			}
		}
	})
}

func checkANOVA(t *testing.T, what string, got ANOVA, want anovaRef) {
	t.Helper()
	if got.DFBetween != want.DFBetween || got.DFWithin != want.DFWithin {
		t.Errorf("%s: df %d and %d, want %d and %d", what, got.DFBetween, got.DFWithin, want.DFBetween, want.DFWithin)
	}
	for name, v := range map[string][2]float64{
		"SS between": {got.SSBetween, want.SSBetween}, "SS within": {got.SSWithin, want.SSWithin}, "MS between": {got.MSBetween, want.MSBetween},
		"MS within": {got.MSWithin, want.MSWithin}, "F": {got.F, want.F}, "SD": {got.SDPooled, want.SDPooled},
		"eta²": {got.EtaSquared, want.EtaSquared}, "omega²": {got.OmegaSquared, want.OmegaSquared},
	} {
		published.Near(t, what+" "+name, v[0], v[1], absR, relR)
	}
	published.Near(t, what+" p", got.P, want.P, 0, 1e-9)
}

func checkF(t *testing.T, what string, got, want FTest) {
	t.Helper()
	published.Near(t, what+" F", got.F, want.F, absR, relR)
	published.Near(t, what+" df1", got.DF1, want.DF1, 0, 0)
	published.Near(t, what+" df2", got.DF2, want.DF2, 0, relR)
	published.Near(t, what+" p", got.P, want.P, 0, 1e-9)
}

// anova(lm(y ~ g)) and oneway.test of R.
func TestOneWayAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		a, err := oneWay(groups)
		if err != nil {
			t.Fatal(err)
		}
		checkANOVA(t, "anova", a, r.Anova)
		w, err := welchANOVA(groups)
		if err != nil {
			t.Fatal(err)
		}
		checkF(t, "Welch", w, r.Welch)
		logs, err := logarithms(groups)
		if (err != nil) != (r.Log.Undefined != "") {
			t.Fatalf("logarithms: %v; R's side: %q", err, r.Log.Undefined)
		}
		if err != nil {
			return
		}
		a, err = oneWay(logs)
		if err != nil {
			t.Fatal(err)
		}
		checkANOVA(t, "anova of logarithms", a, r.Log.Anova)
	})
}

func checkDunnett(t *testing.T, groups []Group, want dunnettRef) Comparisons {
	t.Helper()
	c, err := dunnett(groups, want.Control, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "critical value", c.Critical, want.Critical, 0, 1e-10)
	for i, w := range want.Comparisons {
		got := c.All[i]
		if got.A != w.Group || got.B != want.Control || got.DF != want.DF {
			t.Errorf("%+v, want %s against %s", got, w.Group, want.Control)
		}
		published.Near(t, w.Group+" estimate", got.Estimate, w.Estimate, 1e-13, relR)
		published.Near(t, w.Group+" SE", got.SE, w.SE, 0, relR)
		published.Near(t, w.Group+" t", got.T, w.T, 1e-12, relR)
		published.Near(t, w.Group+" p", got.P, w.P, 0, 1e-9)
		published.Near(t, w.Group+" adjusted p", got.PAdj, w.PAdj, 1e-11, 1e-9)               // the double integral in R, as 1 − coverage
		published.Near(t, w.Group+" adjusted p, multcomp", got.PAdj, w.PAdjMultcomp, 2e-7, 0) // a quasi-random integral, right to about 1e-7
		published.Near(t, w.Group+" critical value", (got.Upper-got.Estimate)/got.SE, want.Critical, 0, 1e-10)
		published.Near(t, w.Group+" lower", got.Lower, w.Lower, 1e-12, 1e-10)
		published.Near(t, w.Group+" upper", got.Upper, w.Upper, 1e-12, 1e-10)
	}
	return c
}

// summary(glht(aov, mcp("Dunnett"))) of multcomp and the exact double integral in R.
func TestDunnettAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		checkDunnett(t, groups, r.Dunnett)
		if r.Log.Undefined != "" {
			return
		}
		logs, err := logarithms(groups)
		if err != nil {
			t.Fatal(err)
		}
		ratios := checkDunnett(t, logs, r.Log.Dunnett).ratios()
		for i, w := range r.Log.DunnettRatio {
			if ratios[i].A != w.Group {
				t.Errorf("ratio of %s, want %s", ratios[i].A, w.Group)
			}
			published.Near(t, w.Group+" ratio", ratios[i].Ratio, w.Ratio, 0, relR)
			published.Near(t, w.Group+" lower", ratios[i].Lower, w.Lower, 0, 1e-10)
			published.Near(t, w.Group+" upper", ratios[i].Upper, w.Upper, 0, 1e-10)
		}
	})
}

// R's qtukey and ptukey stop at about 1e-4 of the quantile for very few degrees of freedom and 1e-9 of p here (R help page
// "Tukey"), which bounds what the comparison can show; TestStudentizedRangeQuantiles is the finer one.
func checkPairs(t *testing.T, what string, got Comparisons, want []pairRef) {
	t.Helper()
	if len(got.All) != len(want) {
		t.Fatalf("%s: %d pairs, want %d", what, len(got.All), len(want))
	}
	for i, w := range want {
		g := got.All[i]
		if g.A != w.A || g.B != w.B {
			t.Fatalf("%s: %s − %s, want %s − %s", what, g.A, g.B, w.A, w.B)
		}
		pair, half := what+" "+w.A+" − "+w.B, w.Upper-w.Diff
		published.Near(t, pair+" difference", g.Estimate, w.Diff, 1e-12, relR)
		published.Near(t, pair+" adjusted p", g.PAdj, w.PAdj, 1e-8, 0)
		published.Near(t, pair+" lower", g.Lower, w.Lower, 1e-7*half, 0)
		published.Near(t, pair+" upper", g.Upper, w.Upper, 1e-7*half, 0)
		if w.SE != 0 {
			published.Near(t, pair+" SE", g.SE, w.SE, 0, relR)
			published.Near(t, pair+" t", g.T, w.T, 1e-12, relR)
			published.Near(t, pair+" df", g.DF, w.DF, 0, relR)
		}
	}
}

// TukeyHSD(aov(y ~ g)) of R.
func TestTukeyKramerAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		c, err := tukeyKramer(groups, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		checkPairs(t, "Tukey", c, r.Tukey)
		if r.Log.Undefined != "" {
			return
		}
		logs, _ := logarithms(groups)
		c, err = tukeyKramer(logs, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range r.Log.TukeyRatio {
			got := c.ratios()[i]
			if got.A != w.A || got.B != w.B {
				t.Errorf("%+v, want %s / %s", got, w.A, w.B)
			}
			published.Near(t, w.A+" / "+w.B, got.Ratio, w.Ratio, 0, relR)
			published.Near(t, w.A+" / "+w.B+" lower", got.Lower, w.Lower, 1e-7, 0)
			published.Near(t, w.A+" / "+w.B+" upper", got.Upper, w.Upper, 1e-7, 0)
			published.Near(t, w.A+" / "+w.B+" adjusted p", got.PAdj, w.PAdj, 1e-8, 0)
		}
	})
}

// Games & Howell's formula with R's ptukey and qtukey.
func TestGamesHowellAgreesWithR(t *testing.T) {
	eachOneway(t, func(t *testing.T, groups []Group, r onewayRefs) {
		c, err := gamesHowell(groups, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		checkPairs(t, "Games-Howell", c, r.GamesHowell)
	})
}
