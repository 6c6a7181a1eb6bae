package compare

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Observation 11 of the detergents in incomplete blocks stands out: R's car::outlierTest(lm(plates ~ block + detergent)) has rstudent −3.83909542346
// and a Bonferroni p of 0.048281120152; by all others R expects 21 + 5.291667.
func TestOutlyingTrayAgainstR(t *testing.T) {
	p, photos := placed(t, "detergent")
	tr := gather(p, photos)
	list := tr.layoutOf(trayfigure.QuantityCalled(outcome.RootCover), 14).outlying(tr)
	if len(list) != 1 || !slices.Equal(list[0].Trays, []int{11}) || list[0].DF != 15 {
		t.Fatalf("%+v", list)
	}
	near(t, "t", list[0].T, -3.83909542346, 1e-10)
	near(t, "p", list[0].P, 0.048281120152, 1e-9)
	near(t, "expected", list[0].Expected, 21+5.291667, 1e-7)
}

// Four trays of water with 10, 11, 10.5 and 20 mm², four of feed with 12, 12.5, 11.8 and 12.2: in R rstudent(lm(log(y) ~ treatment)) of the fourth
// is 15.6720802747378, eight times its p is 0.000153815419854, and the others' geometric mean is 10.49206. The answer is given with it and without.
func TestOutlyingTrayIsListedAndCounts(t *testing.T) {
	p := twoTreatments(4, 4)
	p.MainQuestion = plan.Question{Quantity: outcome.RootArea, Day: 14, WorthPct: 20, Line: 1}
	var photos []reading.Reading
	for i, y := range []float64{10, 11, 10.5, 20, 12, 12.5, 11.8, 12.2} {
		photos = append(photos, roots(i+1, 14, y))
	}
	r := Of(p, photos, nil, Options{})
	if len(r.Outlying) != 1 || !slices.Equal(r.Outlying[0].Trays, []int{4}) || !slices.Contains(r.MustKnow, r.Outlying[0].Words) {
		t.Fatalf("%+v, %q", r.Outlying, r.MustKnow)
	}
	near(t, "t", r.Outlying[0].T, 15.6720802747378, 1e-10)
	near(t, "p", r.Outlying[0].P, 0.000153815419854, 1e-9)
	near(t, "expected", r.Outlying[0].Expected, 10.49206, 1e-6)
	if c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14); len(c.ControlTrays) != 4 || c.Verdict != outcome.Unclear {
		t.Errorf("with it: %+v", c)
	}
	if len(r.Without) != 1 || r.Without[0].What != outcome.OutlyingOne || r.Without[0].Tray != 4 || r.Without[0].Lines[0].Verdict != outcome.More {
		t.Errorf("without it: %+v", r.Without)
	}
}

// Of two trays of a treatment that lie apart nothing tells which one stands out: both are named, and they count as one among five.
func TestOutlyingOneOfTwo(t *testing.T) {
	p := trialOf([]int{2, 2, 2, 2, 2}, treatment("water only", nil), treatment("a", []string{"water only"}, "a"), treatment("b", []string{"water only"}, "b"),
		treatment("c", []string{"water only"}, "c"), treatment("d", []string{"water only"}, "d"))
	var photos []reading.Reading
	for i := range p.Trays {
		photos = append(photos, roots(i+1, 14, 10*math.Exp(0.01*float64(i%2)))) // apart by 0.01 on the log scale
	}
	photos[9] = roots(10, 14, 20)
	tr := gather(p, photos)
	list := tr.layoutOf(trayfigure.QuantityCalled(outcome.RootArea), 14).outlying(tr)
	if len(list) != 1 || !slices.Equal(list[0].Trays, []int{9, 10}) || !strings.Contains(list[0].Words, "it is not clear which") {
		t.Fatalf("%+v", list)
	}
	// The other four pairs have Σe² = 4 · 2 · 0.005² with 4 degrees of freedom, s² = 0.00005; the pair's difference of log 2 has the variance 2s²:
	// t = 0.6931472/0.01 = 69.31472.
	near(t, "t", list[0].T, -69.31472, 1e-6)
}

// Trials without any tray that stands out: one is listed in 5 of 100 at most, with and without real variation between trays, in and out of blocks.
func TestOutlyingTraysFalseAlarms(t *testing.T) {
	v := inventions[0]
	for _, n := range []int{2, 3, 4, 6} {
		for _, inBlocks := range []bool{false, true} {
			p := trialOf([]int{n, n, n, n}, treatment("water only", nil), treatment("a", []string{"water only"}, "a"), treatment("b", []string{"water only"}, "b"),
				treatment("c", []string{"water only"}, "c"))
			for i := range p.Trays {
				if inBlocks {
					p.Trays[i].Block = 1 + i%n
				}
			}
			tr := gather(p, nil)
			for _, tray := range []float64{0, v.tray} {
				r := rand.New(rand.NewPCG(31, uint64(n)))
				alarms := 0
				for range *trials {
					if len(v.lay(tr, r, tray, 0).outlying(tr)) > 0 {
						alarms++
					}
				}
				rate := float64(alarms) / float64(*trials)
				said := fmt.Sprintf("a tray listed as standing out, %d trays per treatment, in blocks %-5v, SD between trays %-4g: %4.1f %% of trials without any", n, inBlocks, tray, 100*rate)
				if t.Log(said); rate > 0.05+3*math.Sqrt(0.05*0.95/float64(*trials)) {
					t.Errorf("%s, want at most 5", said)
				}
			}
		}
	}
}
