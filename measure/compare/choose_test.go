package compare

import (
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// trays makes photos of trays with two equal plugs each, numbered from 1.
func evenTrays(areas ...float64) []reading.Reading {
	var photos []reading.Reading
	for i, a := range areas {
		photos = append(photos, roots(i+1, 14, a, a))
	}
	return photos
}

// Five trays against five that overlap nowhere, with one far out: not normal, so by ranks. Of 252 ways to deal ten ranks
// two are as extreme: p = 2/252 = 0.00794 (Wilcoxon 1945). The estimate is the median of the 25 ratios.
func TestRanksWhereNotNormal(t *testing.T) {
	r := Of(twoTreatments(5, 5), evenTrays(10, 10.1, 10.2, 10.3, 10.4, 20, 20.2, 20.4, 20.6, 20000), nil, Options{AllPairs: true})
	for _, kind := range []outcome.Kind{outcome.AgainstControl, outcome.Pair} {
		c := find(r, kind, outcome.RootArea, "feed", "water only", 14)
		near(t, "p", c.P, 2.0/252, 1e-9)
		if c.Test != "Wilcoxon rank sum, Holm" || c.Verdict != outcome.More || !(c.Estimate > 1.9 && c.Estimate < 2.1) || !strings.Contains(strings.Join(c.Limits, ""), "clearly not normal") {
			t.Errorf("%+v", c)
		}
	}
	// Too few for ranks: said, and left at that.
	c := find(Of(twoTreatments(4, 4), evenTrays(10, 10.01, 10.02, 10.03, 20, 20.01, 20.02, 20000), nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if c.Test != "t" || !strings.Contains(strings.Join(c.Limits, ""), "too few trays to compare ranks") {
		t.Errorf("%+v", c)
	}
}

// Five trays a side can be ranked no further apart than p = 2/252, which times seven comparisons (Holm) is 0.056: ranks could never show anything
// for seven treatments against one control, and are not taken; for six, 0.048, they are.
func TestRanksThatCouldShowNothingAreNotTaken(t *testing.T) {
	for treatments, ranks := range map[int]bool{6: true, 7: false} {
		names := []plan.Treatment{treatment("water only", nil)}
		counts, areas := []int{5}, []float64{10, 10.1, 10.2, 10.3, 10.4}
		for i := range treatments {
			names, counts = append(names, treatment(string(rune('a'+i)), []string{"water only"}, "feed")), append(counts, 5)
			areas = append(areas, 20, 20.2, 20.4, 20.6, 20000)
		}
		c := find(Of(trialOf(counts, names...), evenTrays(areas...), nil, Options{}), outcome.AgainstControl, outcome.RootArea, "a", "water only", 14)
		if got := c.Test == "Wilcoxon rank sum, Holm"; got != ranks {
			t.Errorf("%d treatments: %s, %v", treatments, c.Test, c.Limits)
		}
		if said := strings.Contains(strings.Join(c.Limits, ""), "too few trays to compare ranks"); said == ranks {
			t.Errorf("%d treatments: %q", treatments, c.Limits)
		}
	}
}

// Six trays that hardly vary against six that vary by half: Welch's t with its own degrees of freedom, close to 5. With four
// a side the common scatter stays.
func TestOwnScatter(t *testing.T) {
	areas := []float64{10, 10.1, 9.9, 10.05, 9.95, 10.02, 12, 22, 15, 27, 18, 13}
	c := find(Of(twoTreatments(6, 6), evenTrays(areas...), nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if c.Test != "Welch t" || !(c.DF > 5 && c.DF < 5.1) || c.Verdict != outcome.More {
		t.Errorf("%+v", c)
	}
	c = find(Of(twoTreatments(4, 4), evenTrays(append(areas[:4:4], areas[6:10]...)...), nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if c.Test != "t" || c.DF != 6 {
		t.Errorf("%+v", c)
	}
}
