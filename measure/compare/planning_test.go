package compare

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/planning"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
)

// For two groups the difference that just shows is what R's power.t.test gives: testdata/refs/tables/power.json, n for a
// given difference.
func TestSmallestRatioOfTwoGroups(t *testing.T) {
	text, err := os.ReadFile("../../testdata/refs/tables/power.json")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		N []struct {
			Delta, SD, Power float64
			N                float64 `json:"n_per_group_real"`
		} `json:"n_for_power_t"`
	}
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, w := range want.N {
		if w.Power != planning.Power {
			continue
		}
		tried++
		df := 2 * (w.N - 1) // with that many in each group the difference just shows
		delta := stats.Noncentrality(single.critical(df), df, planning.Power) * w.SD * math.Sqrt(2/w.N)
		near(t, "difference", reading.Number(delta), w.Delta, 1e-4)
	}
	if tried == 0 {
		t.Error("the reference holds no case with 80 % power")
	}
}

// sized gives a plan trays of fifty.
func sized(p *plan.Plan) *plan.Plan {
	p.Tray.Rows, p.Tray.Columns = 5, 10
	return p
}

// What must follow from the trays' variation, whatever the figures.
func TestWhatPlanShows(t *testing.T) {
	v := planning.Variation{TrayCVPct: 10, PlugCVPct: 30}
	one := planning.WhatPlanShows(sized(twoTreatments(1, 1)), v)[0]
	if one.SmallestRatio.Known() || !strings.Contains(one.Why, "none: no treatment has a second tray") {
		t.Errorf("one tray per treatment: %+v", one)
	}
	if len(one.Split) != 2 || !one.Split[0].SmallestRatio.Known() || one.Split[0].PlugsEach != 25 || one.Split[1].PlugsEach != 12 {
		t.Errorf("one tray of 50 as two of 25 and four of 12: %+v", one.Split)
	}
	two, four := planning.WhatPlanShows(sized(twoTreatments(2, 2)), v)[0], planning.WhatPlanShows(sized(twoTreatments(4, 4)), v)[0]
	if !(two.SmallestRatio > four.SmallestRatio && four.SmallestRatio > 1.2) {
		t.Errorf("two trays show %v, four %v", two.SmallestRatio, four.SmallestRatio)
	}
	// More trays of the same plugs beat fewer, as long as trays vary at all.
	if !(two.Split[0].SmallestRatio < two.SmallestRatio && two.Split[1].SmallestRatio < two.Split[0].SmallestRatio) {
		t.Errorf("split: %+v", two)
	}
	// Many treatments against one control pay for it together, but share the trays that tell how trays vary.
	water := []string{"water only"}
	many := trialOf([]int{4, 4, 4, 4}, treatment("water only", nil), treatment("a", water, "a"), treatment("b", water, "b"), treatment("c", water, "c"))
	if s := planning.WhatPlanShows(sized(many), v); len(s) != 3 || s[0].SmallestRatio != s[2].SmallestRatio {
		t.Errorf("%+v", s)
	}
	if s := planning.WhatPlanShows(sized(twoTreatments(0, 2)), v)[0]; s.SmallestRatio.Known() || s.Why != "one of the two has no tray" {
		t.Errorf("%+v", s)
	}
}

// A past trial gives its variation, weighted by trays beyond one a treatment; one without any gives none.
func TestPastVariation(t *testing.T) {
	p, photos := nestedTrial(t, "balanced", extracts)
	got := planning.PastVariation(Of(p, photos, nil, Options{}), Of(twoTreatments(1, 1), nil, nil, Options{}))
	c := find(Of(p, photos, nil, Options{}), outcome.AgainstControl, outcome.RootArea, "extract_low", "control", 21)
	if len(got) != 1 || got[0].Quantity != outcome.RootArea || got[0].DF != 9 || got[0].Source != "from 1 past trial, 9 trays beyond one a treatment" {
		t.Fatalf("%+v", got)
	}
	near(t, "trays", reading.Number(got[0].TrayCVPct), float64(c.TrayVariation), 1e-9)
	near(t, "plugs", reading.Number(got[0].PlugCVPct), float64(c.PlugVariation), 1e-9)
}
