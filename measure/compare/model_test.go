package compare

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// placed reads a data set of testdata/refs/places as a trial of one tray a line, its values as root area and root cover, all against
// treatment A.
func placed(t *testing.T, name string, leaveOut ...int) (*plan.Plan, []reading.Reading) {
	t.Helper()
	lines := refRows(t, "places", name)
	p := trialOf(nil)
	var photos []reading.Reading
	for i, line := range lines[1:] {
		if slices.Contains(leaveOut, i+1) {
			continue
		}
		value, err := strconv.ParseFloat(line[4], 64)
		if err != nil {
			t.Fatal(err)
		}
		at := func(k int) int { n, _ := strconv.Atoi(line[k]); return n } // blank is 0
		p.Trays = append(p.Trays, plan.Tray{Number: i + 1, Treatment: line[3], Block: at(0), Row: at(1), Column: at(2)})
		if p.Treatment(line[3]) == nil {
			var against []string
			if line[3] != "A" {
				against = []string{"A"}
			}
			p.Treatments = append(p.Treatments, treatment(line[3], against, line[3]))
		}
		plug := noPlug("A1", reading.Planted)
		plug.RootAreaMM2, plug.RootCoverPct = reading.Number(value), reading.Number(value)
		photos = append(photos, photo(i+1, 14, "roots", plug))
	}
	slices.SortFunc(p.Treatments, func(a, b plan.Treatment) int { return strings.Compare(a.Name, b.Name) })
	return p, photos
}

// Published data, calculated by R (testdata/refs/places): balanced incomplete blocks, a Latin square, and the square with five plots missing.
// In the blocks each of 5 treatments is 6 times in blocks of 3, each pair of treatments in 3 of the 10: the variance of a difference is
// 2kσ²/(λt) = 2·3σ²/(3·5) = 0.4σ² (Cochran & Cox 1957, ch. 11), instead of 2σ²/6 in complete blocks.
func TestWithinPlacesAgainstR(t *testing.T) {
	for _, c := range []struct {
		data, result string
		quantity     string
		leaveOut     []int
		words        string
	}{
		{"detergent", "detergent", outcome.RootCover, nil, "within the 10 blocks"},
		{"orchard", "orchard", outcome.RootArea, nil, "within the 8 rows and 8 columns"},
		{"orchard", "orchard_incomplete", outcome.RootArea, []int{3, 17, 29, 44, 58}, "within the 8 rows and 8 columns"},
	} {
		var want struct {
			DF                     int
			Variance               float64
			Means, Differences, SE []float64
		}
		text, err := os.ReadFile(filepath.Join("../../testdata/refs/places", c.result+".json"))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		p, photos := placed(t, c.data, c.leaveOut...)
		tr := gather(p, photos)
		l := tr.layoutOf(trayfigure.QuantityCalled(c.quantity), 14)
		if l.df != want.DF || !strings.Contains(strings.Join(l.limits, ";"), c.words) {
			t.Fatalf("%s: %d degrees of freedom, want %d; %q", c.result, l.df, want.DF, l.limits)
		}
		near(t, c.result+": variance", reading.Number(l.pooled), want.Variance, 1e-10)
		for i, x := range p.Treatments {
			m := want.Means[i]
			if l.Scale == outcome.Ratio {
				m = math.Exp(m)
			}
			near(t, c.result+": mean of "+x.Name, l.meanOf(l.group(x.Name)), m, 1e-10)
			if i > 0 {
				k := l.contrast(1, term{l.group(x.Name), 1}, term{l.group("A"), -1})
				near(t, c.result+": difference of "+x.Name, reading.Number(k.estimate), want.Differences[i-1], 1e-10)
				near(t, c.result+": standard error of "+x.Name, reading.Number(k.se), want.SE[i-1], 1e-10)
			}
		}
		if c.data == "detergent" {
			k := l.contrast(1, term{l.group("B"), 1}, term{l.group("A"), -1})
			near(t, "variance of a difference", reading.Number(k.weight), 0.4, 1e-12)
		}
	}
}

// In the Latin square of four, rows and columns leave (4 − 1)(4 − 2) = 6 degrees of freedom and are allowed for; in that of three they leave 2,
// so that only rows are, which leave 9 − 3 − 2 = 4.
func TestSmallSquares(t *testing.T) {
	for _, c := range []struct {
		n, df int
		words string
	}{{4, 6, "4 rows and 4 columns"}, {3, 4, "3 rows, each with all treatments"}} {
		p := trialOf(slices.Repeat([]int{c.n}, c.n), treatment("a", nil), treatment("b", []string{"a"}, "b"), treatment("c", []string{"a"}, "c"), treatment("d", []string{"a"}, "d"))
		if c.n == 3 {
			p = trialOf([]int{3, 3, 3}, p.Treatments[:3]...)
		}
		var photos []reading.Reading
		for i := range p.Trays {
			row, column := i%c.n, (i/c.n+i)%c.n
			p.Trays[i].Row, p.Trays[i].Column = row+1, column+1
			photos = append(photos, roots(i+1, 14, 10+float64(i*i%7)+float64(3*row)))
		}
		l := gather(p, photos).layoutOf(trayfigure.QuantityCalled(outcome.RootArea), 14)
		if l.df != c.df || l.model.words != strings.TrimSuffix(c.words, ", each with all treatments") {
			t.Errorf("%d × %d: %d degrees of freedom within the %s, want %d and %s", c.n, c.n, l.df, l.model.words, c.df, c.words)
		}
	}
}

// Treatments that never share a block cannot be compared within blocks: the blocks' difference is theirs, too. The trays' scatter is then taken over
// the bench.
func TestTreatmentsThatShareNoBlock(t *testing.T) {
	p := twoTreatments(4, 4)
	var photos []reading.Reading
	for i := range p.Trays {
		p.Trays[i].Block = 1 + i/2 // 1 and 2 hold water, 3 and 4 feed
		photos = append(photos, roots(i+1, 14, 10+float64(i*i%5), 11+float64(i%3)))
	}
	if l := gather(p, photos).layoutOf(trayfigure.QuantityCalled(outcome.RootArea), 14); l.model != nil || l.df != 6 {
		t.Errorf("%d degrees of freedom, %+v", l.df, l.model)
	}
}

// Within incomplete blocks, and rows and columns, whose places differ by far more than trays do, false alarms of a family come in 5 of 100 trials
// or a little less, where not all comparisons are correlated alike; over the bench the places' differences would count as scatter, and no effect
// could be found.
func TestFalseAlarmsWithinPlaces(t *testing.T) {
	water := []string{"water only"}
	treatments := []plan.Treatment{treatment("water only", nil), treatment("a", water, "a"), treatment("b", water, "b"), treatment("c", water, "c")}
	pairs := [][2]int{{0, 1}, {2, 3}, {0, 2}, {1, 3}, {0, 3}, {1, 2}}
	inPairs := func(times int) *plan.Plan { // each pair of four treatments is in so many blocks of two
		p := trialOf(nil, treatments...)
		for block := range times * len(pairs) {
			for _, of := range pairs[block%len(pairs)] {
				p.Trays = append(p.Trays, plan.Tray{Number: len(p.Trays) + 1, Treatment: treatments[of].Name, Block: block + 1})
			}
		}
		return p
	}
	square := trialOf(nil, treatments...)
	for i := range 16 {
		square.Trays = append(square.Trays, plan.Tray{Number: i + 1, Treatment: treatments[(i/4+i)%4].Name, Row: 1 + i/4, Column: 1 + i%4})
	}
	some := *square
	some.Trays = slices.Delete(slices.Clone(square.Trays), 2, 5)
	for name, p := range map[string]*plan.Plan{"pairs": inPairs(1), "pairs twice": inPairs(2), "Latin square": square, "Latin square without three trays": &some} {
		tr, r := gather(p, nil), rand.New(rand.NewPCG(32, 26))
		alarms, found := 0, 0
		for range *trials {
			places := map[[2]int]float64{}
			lay := func(effect float64) *layout {
				return tr.lay(&layout{About: trayfigure.About{Name: outcome.RootArea, Unit: "mm²", Scale: outcome.Ratio, Day: 14, Needs: []trayfigure.Need{{Day: 14, View: reading.Roots}}}}, func(number int) (trayfigure.Figure, bool) {
					i := slices.IndexFunc(p.Trays, func(x plan.Tray) bool { return x.Number == number })
					y := 0.1 * r.NormFloat64()
					for k, at := range []int{p.Trays[i].Block, p.Trays[i].Row, p.Trays[i].Column} {
						if _, known := places[[2]int{k, at}]; !known {
							places[[2]int{k, at}] = r.NormFloat64()
						}
						y += places[[2]int{k, at}]
					}
					if p.Trays[i].Treatment == "a" {
						y += effect
					}
					return trayfigure.Figure{Tray: number, Value: 10 * math.Exp(y), Plugs: 1, PlugVar: arithmetic.NaN, U: arithmetic.NaN, Common: arithmetic.NaN}, true
				})
			}
			if slices.ContainsFunc(tr.compareAll(lay(0), Options{}), claims) {
				alarms++
			}
			if claims(tr.compareAll(lay(1), Options{})[0]) {
				found++
			}
		}
		rate := float64(alarms) / float64(*trials)
		said := fmt.Sprintf("within places, %-32s: false alarms %4.1f %%, e times found in %5.1f %%", name, 100*rate, 100*float64(found)/float64(*trials))
		if t.Log(said); math.Abs(rate-0.047) > 0.005+3*math.Sqrt(0.05*0.95/float64(*trials)) || found < *trials*9/10 {
			t.Error(said)
		}
	}
}
