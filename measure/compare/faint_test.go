package compare

import (
	"math"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// faintTrial is two treatments of two trays, whose plugs have hardly any roots on day 5 and grow well from day 9 on.
func faintTrial(early ...float64) (*plan.Plan, []reading.Reading) {
	p := twoTreatments(2, 2)
	p.ReviewDays = []int{5, 9, 13, 17}
	var photos []reading.Reading
	for tray := 1; tray <= 4; tray++ {
		grown := 20 + float64(tray)
		for i, day := range p.ReviewDays {
			areas := []float64{0.8 * grown, grown, 1.2 * grown}
			if i == 0 {
				areas = early
			}
			photo := roots(tray, day, areas...)
			for k := range photo.Plugs {
				photo.Plugs[k].RootAreaUMM2 = max(0.5, photo.Plugs[k].RootAreaMM2/10)
			}
			photos = append(photos, photo)
			grown *= 2
		}
	}
	return p, photos
}

// Growth by logarithms takes amounts that can be measured: 3.29 times their own standard uncertainty (Currie 1968, Anal. Chem. 40,
// 586-593). Roots of 1e-22 ± 0.5 mm² on day 5 would make a rate of thousands of % a day with an interval of ±10^23; the rates begin on day 9
// instead, where roots double every four days, 100·ln 2/4 = 17.33 % a day, and the result says so.
func TestGrowthBeginsWhereThereIsSomething(t *testing.T) {
	for name, early := range map[string][]float64{"next to nothing": {1e-22, 2e-22, 3e-22}, "within the error bars": {0.2, 0.3, 0.4}, "some plugs without": {0, 0, 1}} {
		p, photos := faintTrial(early...)
		r := Of(p, photos, nil, Options{})
		for _, c := range r.Comparisons {
			if c.Unit == "% a day" && c.Estimate.Known() && (math.Abs(float64(c.Estimate)) > 100 || c.Upper-c.Lower > 200) {
				t.Errorf("%s: %s", name, c.Sentence)
			}
			if c.Scale == outcome.Ratio && c.Estimate.Known() && (c.Estimate > 100 || c.Estimate < 0.01) {
				t.Errorf("%s: %s", name, c.Sentence)
			}
		}
		c := find(r, outcome.AgainstControl, outcome.RootGrowth, "feed", "water only", 9)
		if why := "roots on day 5 are too small to measure in trays 1, 2, 3 and 4, so growth is not counted from that day"; c.Verdict != outcome.NotCompared || !strings.Contains(c.Sentence, why) {
			t.Errorf("%s: %s: %s", name, c.Verdict, c.Sentence)
		}
		c = find(r, outcome.AgainstControl, outcome.RootSeason, "feed", "water only", 17)
		near(t, name, c.Mean, 100*math.Log(2)/4, 1e-9)
		if c.FromDay == nil || *c.FromDay != 9 {
			t.Errorf("%s: from day %v", name, c.FromDay)
		}
		if c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 5); c.Scale != outcome.Difference {
			t.Errorf("%s: day 5 is compared by its ratio: %s", name, c.Sentence)
		}
		if !slices.ContainsFunc(r.Limits, func(l string) bool { return strings.Contains(l, "growth is not counted from that day") }) {
			t.Errorf("%s: no limit says that day 5 is left out: %q", name, r.Limits)
		}
	}
}

// Amounts well above their error bars count from the first day: 2 ± 0.5 mm² (u = 0.25) is eight times its standard uncertainty.
func TestGrowthFromSmallAmounts(t *testing.T) {
	p, photos := faintTrial(1.9, 2, 2.1)
	r := Of(p, photos, nil, Options{})
	if c := find(r, outcome.AgainstControl, outcome.RootSeason, "feed", "water only", 17); c.FromDay == nil || *c.FromDay != 5 {
		t.Errorf("from day %v", c.FromDay)
	}
	if c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 5); c.Scale != outcome.Ratio {
		t.Error(c.Sentence)
	}
}

// A tray that has nothing on either day does not grow and has no rate; the others keep theirs.
func TestADeadTrayTakesNoDayFromTheOthers(t *testing.T) {
	p, photos := faintTrial(10, 11, 12)
	for i, r := range photos {
		if r.Tray == 2 {
			for k := range r.Plugs {
				photos[i].Plugs[k].RootAreaMM2 = 0.1
			}
		}
	}
	c := find(Of(p, photos, nil, Options{}), outcome.AgainstControl, outcome.RootGrowth, "feed", "water only", 9)
	if c.Verdict == outcome.NotCompared || !slices.Equal(c.ControlTrays, []int{1}) {
		t.Errorf("%v: %s", c.ControlTrays, c.Sentence)
	}
}

// Plants that have grown into each other are known badly one by one, 100 ± 80 mm², and are nothing less for that.
func TestPlantsGrownTogetherAreNotNothing(t *testing.T) {
	photos := []reading.Reading{leaves(1, 14, 90, 110), leaves(2, 14, 100, 120), leaves(3, 14, 140, 160), leaves(4, 14, 150, 160)}
	for _, r := range photos {
		for k := range r.Plugs {
			r.Plugs[k].LeafAreaUMM2, r.Plugs[k].Flags = 80, []string{reading.GrownTogether}
		}
	}
	if c := find(Of(twoTreatments(2, 2), photos, nil, Options{}), outcome.AgainstControl, outcome.LeafArea, "feed", "water only", 14); c.Scale != outcome.Ratio {
		t.Error(c.Sentence)
	}
}
