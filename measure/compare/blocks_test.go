package compare

import (
	"math"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Two treatments in three blocks are three pairs, and the block analysis is the paired t test: logarithms of the pairs' ratios 1.2, 1.3 and
// 1.25 are 0.182322, 0.262364 and 0.223144, mean 0.222610, SD 0.040024, SE 0.023108; t(0.975; 2) = 4.302653 gives ± 0.099426. The blocks
// themselves, of 10, 20 and 40 mm², do not count against it.
func TestCompleteBlocks(t *testing.T) {
	p := twoTreatments(3, 3)
	var photos []reading.Reading
	for i := range 3 {
		p.Trays[i].Block, p.Trays[i+3].Block = i+1, i+1
		water := 10 * math.Pow(2, float64(i))
		feed := water * []float64{1.2, 1.3, 1.25}[i]
		photos = append(photos, roots(i+1, 14, 0.999*water, water, 1.001*water), roots(i+4, 14, 0.999*feed, feed, 1.001*feed))
	}
	c := find(Of(p, photos, nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	near(t, "ratio", c.Estimate, math.Exp(0.222610), 1e-5)
	near(t, "lower", c.Lower, math.Exp(0.222610-0.099426), 1e-4)
	if c.DF != 2 || c.Verdict != outcome.More || !slices.ContainsFunc(c.Limits, func(l string) bool { return strings.HasPrefix(l, "trays stand in 3 blocks, each with all treatments") }) {
		t.Errorf("%+v", c)
	}
	// A tray missing: no complete blocks, and the trays' scatter is taken over the bench.
	c = find(Of(p, photos[1:], nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if c.DF != 3 || c.Verdict != outcome.Unclear {
		t.Errorf("%+v", c)
	}
}
