package compare

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/stats/dist"
)

// threeOnWater is a control and two treatments with so many trays each, whose main question is root area on day 14.
func threeOnWater(trays int) *plan.Plan {
	water := []string{"water only"}
	p := trialOf([]int{trays, trays, trays}, treatment("water only", nil), treatment("feed", water, "feed"), treatment("seaweed", water, "seaweed"))
	p.ReviewDays = []int{7, 14}
	p.MainQuestion = plan.Question{Quantity: outcome.RootArea, Day: 14, WorthPct: 20, Line: 1}
	return p
}

// The answer names who is clearly ahead and who is not, for the quantity and day that the plan named. Everything else is exploratory and
// adjusted together by Benjamini and Hochberg.
func TestTheAnswerLeadsWithTheMainQuestion(t *testing.T) {
	p := threeOnWater(2)
	photos := []reading.Reading{
		roots(1, 7, 4, 4.2), roots(2, 7, 5, 5.2), roots(3, 7, 6.5, 6.6), roots(4, 7, 7.02, 7.12), roots(5, 7, 4.5, 4.6), roots(6, 7, 4.8, 5),
		roots(1, 14, 9.9, 10.1), roots(2, 14, 11.9, 12.1), roots(3, 14, 39, 41), roots(4, 14, 44, 46), roots(5, 14, 11, 11.2), roots(6, 14, 12, 12.2),
	}
	r := Of(p, photos, nil, Options{})
	if want := "Root area, day 14: Feed: 3.9 times that of water only. Unclear for seaweed."; r.Answer.Short != want || !r.Answer.Planned || len(r.Answer.Lines) != 2 {
		t.Errorf("%+v, want %q", r.Answer, want)
	}
	var ps []float64
	for _, c := range r.Comparisons {
		if main := c.Quantity == outcome.RootArea && c.Day == 14; (c.Role == outcome.Main) != main {
			t.Errorf("%s on day %d is %s", c.Quantity, c.Day, c.Role)
		}
		if c.Role == outcome.Exploratory && c.PSingle.Known() {
			ps = append(ps, float64(c.PSingle))
		}
	}
	k, byChance := 0, 0
	for _, c := range r.Comparisons {
		if c.Role == outcome.Main && c.PExploratory.Known() {
			t.Errorf("a main comparison is adjusted with the exploratory ones: %+v", c)
		}
		if c.Role == outcome.Exploratory && c.PSingle.Known() {
			near(t, "p", c.PExploratory, stats.Adjust(ps, stats.BenjaminiHochberg)[k], 1e-12) // checked against R there
			if k++; (c.Verdict == outcome.More || c.Verdict == outcome.Less) && c.PExploratory >= 0.05 {
				t.Errorf("clear among the exploratory ones though it may be chance: %+v", c)
			}
			// Where the interval leaves no difference out and the verdict is unclear all the same, a table says why.
			if against := c.Kind == outcome.AgainstControl && c.Verdict == outcome.Unclear && c.Lower.Known() && (c.Lower > 1 || c.Upper < 1) && c.Scale == outcome.Ratio; against != c.MayBeChance {
				t.Errorf("interval %v to %v, %s, may be chance: %v", c.Lower, c.Upper, c.VerdictWords(), c.MayBeChance)
			} else if against {
				byChance++
			}
		}
	}
	if byChance == 0 {
		t.Error("no comparison is clear by itself alone: nothing was tried here")
	}
	// A question that the plan does not name is as exploratory as all else, and so is one whose day has not come.
	p.MainQuestion = plan.Question{}
	if r = Of(p, photos, nil, Options{}); r.Answer.Planned || r.Answer.Quantity != outcome.RootArea || r.Answer.Day != 14 || !strings.Contains(r.Answer.Note, "has no main_question") {
		t.Errorf("%+v", r.Answer)
	}
	p.MainQuestion = plan.Question{Quantity: outcome.LeafArea, Day: 21, WorthPct: 20, Line: 1}
	if r = Of(p, photos, nil, Options{}); r.Answer.Planned || r.Answer.Day != 14 || !strings.Contains(r.Answer.Note, "leaf area on day 21, but there are no photos of that day yet") {
		t.Errorf("%+v", r.Answer)
	}
}

// Where nothing was compared, nothing is called unclear.
func TestNothingComparedIsNotUnclear(t *testing.T) {
	r := Of(threeOnWater(2), []reading.Reading{roots(3, 14, 5, 6), roots(4, 14, 5, 6)}, nil, Options{})
	if want := "Root area, day 14: Not compared: feed and seaweed."; r.Answer.Short != want {
		t.Errorf("%q, want %q", r.Answer.Short, want)
	}
}

// As many trays as are said to be needed find the difference worth having in four of five trials: tried with that many.
func TestTraysNeeded(t *testing.T) {
	p := threeOnWater(3)
	r := rand.New(rand.NewPCG(5, 6))
	c := find(Of(p, simulated(p, r, 12, 0.1, 0.3), nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if c.Verdict != outcome.Unclear || !c.TraysNeeded.Known() || !strings.HasSuffix(c.TakesWords(), " trays per treatment are needed to show 20 %") {
		t.Fatalf("%+v", c)
	}
	tr := gather(p, simulated(p, r, 12, 0.1, 0.3))
	l := tr.layoutOf(trayfigure.QuantityCalled(outcome.RootArea), 14)
	l.pooled, l.floor = 0.13*0.13, 0.05*0.05 // trays of a CV of 13 %
	c = outcome.Comparison{Verdict: outcome.Unclear, Scale: outcome.Ratio}
	tr.need(l, &c, 2)
	n := int(c.TraysNeeded)
	found, tried := 0, 4000
	d := dist.ManyToOne(n, []int{n, n}, float64(3*(n-1))).Quantile(0.95)
	for range tried {
		mean := func(shift float64) (m, squares float64) {
			xs := make([]float64, n)
			for i := range xs {
				xs[i] = shift + 0.13*r.NormFloat64()
				m += xs[i] / float64(n)
			}
			for _, x := range xs {
				squares += (x - m) * (x - m)
			}
			return m, squares
		}
		a, sa := mean(math.Log(1.2))
		b, sb := mean(0)
		_, sc := mean(0)
		if math.Abs(a-b) > d*math.Sqrt((sa+sb+sc)/float64(3*(n-1))*2/float64(n)) {
			found++
		}
	}
	if power := float64(found) / float64(tried); power < 0.78 || power > 0.90 { // whole trays: a little more than 80 %
		t.Errorf("%d trays per treatment find it in %.0f %% of trials", n, 100*power)
	}
}

// An interval from a tenth to ten times, or from half of all plants fewer to half of all more, is no result; nor is one of
// growth by half less a day to half more, or one of an amount from losing nearly all to gaining nine times what the larger side has.
func TestIntervalsThatSpanEverything(t *testing.T) {
	for _, c := range []struct {
		scale       outcome.Scale
		unit        string
		low, high   reading.Number
		saysNothing bool
	}{
		{outcome.Ratio, "mm²", 0.09, 11, true}, {outcome.Ratio, "mm²", 0.2, 20, false}, {outcome.Ratio, "mm²", 0.05, 0.5, false},
		{outcome.Difference, "%", -100, 100, true}, {outcome.Difference, "%", -66, 64, true}, {outcome.Difference, "%", -20, 90, false}, {outcome.Difference, "°", -90, 90, false}, {outcome.Difference, "% a day", -1e23, 1e23, true}, {outcome.Difference, "% a day", -20, 31, false},
		{outcome.Difference, "mm²", -30, 34, true}, {outcome.Difference, "mm²", -1, 40, false}, {outcome.Difference, "mm²", -3, 9, false},
	} {
		got := outcome.Comparison{Scale: c.scale, Unit: c.unit, Lower: c.low, Upper: c.high, Mean: 2, ControlMean: 0}
		if got.SaysNothing() != c.saysNothing || c.saysNothing && got.IntervalWords() != "too wide" {
			t.Errorf("%v: %v, %q", c, got.SaysNothing(), got.IntervalWords())
		}
	}
}
