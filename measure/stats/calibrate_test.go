package stats

import (
	"flag"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// trials is how many invented trials each rate below comes from; `make calibrate-stats` takes many more than a test may.
var trials = flag.Int("trials", 1000, "invented trials for each rate")

// growing is an invented trial: each treatment with its true ratio to the first, trays treated alike and plugs of one tray varying on the
// log scale.
type growing struct {
	ratios []float64
	trays  []int // of each treatment
	plugs  func(tray int) int
	sdTray []float64 // of each treatment
	sdPlug float64
	skewed bool // trays vary by an exponential distribution instead of a normal one
}

func (g growing) units(r *rand.Rand) (units []Unit) {
	tray := 0
	for i, ratio := range g.ratios {
		for range g.trays[i] {
			off := r.NormFloat64()
			if g.skewed {
				off = r.ExpFloat64() - 1
			}
			tray++
			u := Unit{Group: name(i), Name: strconv.Itoa(tray)}
			for range g.plugs(tray) {
				u.Values = append(u.Values, 100*ratio*math.Exp(g.sdTray[i]*off+g.sdPlug*r.NormFloat64()))
			}
			units = append(units, u)
		}
	}
	return units
}

func name(i int) string { return string(rune('a' + i)) }

func same[T any](n int, v T) []T {
	vs := make([]T, n)
	for i := range vs {
		vs[i] = v
	}
	return vs
}

// rate counts how often happens, in trials of a fixed seed.
func rate(t *testing.T, g growing, happens func(units []Unit) bool) share {
	t.Helper()
	return rateOf(*trials, g, happens)
}

// share is how often something happened in n trials.
type share struct {
	of float64
	n  int
}

func rateOf(n int, g growing, happens func(units []Unit) bool) share {
	r, count := rand.New(rand.NewPCG(20, 26)), 0
	for range n {
		if happens(g.units(r)) {
			count++
		}
	}
	return share{float64(count) / float64(n), n}
}

// tolerance is four standard errors of a binomial share.
func (s share) tolerance(p float64) float64 { return 4 * math.Sqrt(p*(1-p)/float64(s.n)) }

// within fails unless got is as near to want as chance allows.
func within(t *testing.T, what string, got share, want float64) {
	t.Helper()
	t.Logf("%s: %.4f of %d, promised %.4f ± %.4f", what, got.of, got.n, want, got.tolerance(want))
	if math.Abs(got.of-want) > got.tolerance(want) {
		t.Errorf("%s: %.4f, want %.4f ± %.4f", what, got.of, want, got.tolerance(want))
	}
}

func atMost(t *testing.T, what string, got share, most float64) {
	t.Helper()
	t.Logf("%s: %.4f of %d, promised at most %.4f + %.4f", what, got.of, got.n, most, got.tolerance(most))
	if got.of > most+got.tolerance(most) {
		t.Errorf("%s: %.4f, want at most %.4f + %.4f", what, got.of, most, got.tolerance(most))
	}
}

// anyBelow reports whether any adjusted p is below 5 %.
func anyBelow(t *testing.T, c Comparisons, err error) bool {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range c.All {
		if d.PAdj < 0.05 {
			return true
		}
	}
	return false
}

func logMeans(t *testing.T, units []Unit) []Group {
	t.Helper()
	logs, err := logarithms(UnitMeans(units))
	if err != nil {
		t.Fatal(err)
	}
	return logs
}

// No treatment does anything; trays differ with a CV of 10 %, plugs with 25 %. With fifty plugs per tray, whoever takes plugs for
// replicates finds a difference in most such trials.
func TestFalseAlarms(t *testing.T) {
	uneven := func(tray int) int { return 6 + 5*(tray%3) }
	none := growing{ratios: same(4, 1.0), trays: same(4, 4), plugs: func(int) int { return 50 }, sdTray: same(4, 0.1), sdPlug: 0.25}
	within(t, "Dunnett on trays", rate(t, none, func(units []Unit) bool {
		c, err := dunnett(logMeans(t, units), "a", 0.95)
		return anyBelow(t, c, err)
	}), 0.05)
	within(t, "Tukey on trays", rate(t, none, func(units []Unit) bool {
		c, err := tukeyKramer(logMeans(t, units), 0.95)
		return anyBelow(t, c, err)
	}), 0.05)
	within(t, "analysis of variance of trays", rate(t, none, func(units []Unit) bool {
		a, err := oneWay(logMeans(t, units))
		return err == nil && a.P < 0.05
	}), 0.05)
	chosen := rate(t, none, func(units []Unit) bool {
		r, err := CompareUnits(units, Options{Control: "a"})
		return anyBelow(t, r.Comparisons, err)
	})
	atMost(t, "whatever the rule chooses", chosen, 0.06) // choosing by the same data could cost a little: 0.047 of 12 000 trials
	naive := rate(t, none, func(units []Unit) bool {
		c, err := dunnett(Values(units), "a", 0.95)
		return anyBelow(t, c, err)
	})
	t.Logf("plugs taken for replicates: %.4f", naive.of)
	if naive.of < 0.5 {
		t.Errorf("plugs taken for replicates raise false alarms in %.2f of trials only: this shows nothing", naive.of)
	}

	unequal := none
	unequal.trays, unequal.plugs = []int{6, 3, 4, 5}, uneven
	within(t, "Dunnett, unequal trays and plugs", rate(t, unequal, func(units []Unit) bool {
		c, err := dunnett(logMeans(t, units), "a", 0.95)
		return anyBelow(t, c, err)
	}), 0.05)
	within(t, "synthesised F, unequal trays and plugs", rate(t, unequal, func(units []Unit) bool {
		n, err := nested(units)
		return err == nil && n.Synthesised.P < 0.05
	}), 0.05)
}

// Trays of one treatment vary four times as much. One variance for all then promises what it does not keep; own variances keep it.
func TestFalseAlarmsWhereSpreadsDiffer(t *testing.T) {
	g := growing{ratios: same(4, 1.0), trays: []int{12, 12, 4, 6}, plugs: func(int) int { return 8 }, sdTray: []float64{0.1, 0.1, 0.4, 0.1}, sdPlug: 0.1}
	own := rateOf(*trials/5, g, func(units []Unit) bool {
		c, err := welchToControl(logMeans(t, units), "a", 0.95)
		return anyBelow(t, c, err)
	})
	atMost(t, "own variances", own, 0.06) // the correlations are estimated, too, which costs a little: 0.060 of 12 000 trials, as in pairs
	pairs := rate(t, g, func(units []Unit) bool {
		c, err := gamesHowell(logMeans(t, units), 0.95)
		return anyBelow(t, c, err)
	})
	atMost(t, "Games-Howell", pairs, 0.06)
	one := rate(t, g, func(units []Unit) bool {
		c, err := dunnett(logMeans(t, units), "a", 0.95)
		return anyBelow(t, c, err)
	})
	t.Logf("one variance for all: %.4f", one.of)
	if one.of < 0.1 {
		t.Errorf("one variance for all raises false alarms in %.3f of trials only: this shows nothing", one.of)
	}
}

// Skewed trays, eight of each.
func TestFalseAlarmsByRanks(t *testing.T) {
	g := growing{ratios: same(3, 1.0), trays: same(3, 8), plugs: func(int) int { return 5 }, sdTray: same(3, 0.5), sdPlug: 0.1, skewed: true}
	atMost(t, "by ranks", rate(t, g, func(units []Unit) bool {
		c, err := RanksToControl(UnitMeans(units), "a", 0.95)
		return anyBelow(t, c, err)
	}), 0.05)
}

// True ratios of 1, 1.2, 0.8 and 1.5: all intervals together hold their truth in 95 % of trials. Plugs of one tray differ by the same
// factor in all treatments, so the ratio of arithmetic tray means is the ratio put in.
func TestIntervalsCover(t *testing.T) {
	g := growing{ratios: []float64{1, 1.2, 0.8, 1.5}, trays: []int{5, 4, 4, 3}, plugs: func(int) int { return 10 }, sdTray: same(4, 0.12), sdPlug: 0.25}
	cover := func(rs []Ratio) bool {
		for _, r := range rs {
			truth := g.ratios[r.A[0]-'a'] / g.ratios[r.B[0]-'a']
			if !(r.Lower <= truth && truth <= r.Upper) {
				return false
			}
		}
		return true
	}
	within(t, "Dunnett's intervals", rate(t, g, func(units []Unit) bool {
		c, err := dunnett(logMeans(t, units), "a", 0.95)
		return err == nil && cover(c.ratios())
	}), 0.95)
	chosen := rate(t, g, func(units []Unit) bool {
		r, err := CompareUnits(units, Options{Control: "a"})
		return err != nil || r.Scale == LogScale && !cover(r.Comparisons.ratios())
	})
	atMost(t, "misses of whatever the rule chooses", chosen, 0.06)
	naive := rate(t, g, func(units []Unit) bool {
		logs, err := logarithms(Values(units))
		if err != nil {
			return false
		}
		c, err := dunnett(logs, "a", 0.95)
		return err == nil && cover(c.ratios())
	})
	t.Logf("intervals from plugs taken for replicates cover in %.4f", naive.of)
	if naive.of > 0.7 {
		t.Errorf("intervals from plugs cover in %.3f of trials: this shows nothing", naive.of)
	}
}

// What planning promises is what trials then show.
func TestPowerIsKept(t *testing.T) {
	const trays, plugs, sdTray, sdPlug = 4, 12, 0.1, 0.25
	_, detectable := dunnettShows(3, trays, 0, 0.8)
	delta := detectable * sdOfMean(sdTray, sdPlug, plugs) * math.Sqrt(2.0/trays)
	g := growing{ratios: []float64{1, math.Exp(delta), 1, 1}, trays: same(4, trays), plugs: func(int) int { return plugs }, sdTray: same(4, sdTray), sdPlug: sdPlug}
	within(t, "power to show "+strconv.FormatFloat(math.Exp(delta), 'f', 3, 64)+" times", rate(t, g, func(units []Unit) bool {
		c, err := dunnett(logMeans(t, units), "a", 0.95)
		return err == nil && c.All[0].PAdj < 0.05
	}), 0.8)
}
