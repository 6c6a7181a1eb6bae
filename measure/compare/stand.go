package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
)

// count is how many of the plugs looked at hold a plant.
type count struct {
	plants, plugs int
	trays         []int
	each          [][2]int // plants and plugs tray by tray
}

// standOf counts a treatment's plants from above on a day.
func (t *trial) standOf(treatment string, day int) count {
	c := count{trays: []int{}}
	numbers := t.Plan.TraysOf(treatment)
	slices.Sort(numbers)
	for _, tray := range numbers {
		if plants, plugs := t.StandOfTray(day, tray); plugs > 0 {
			c.plants, c.plugs, c.trays, c.each = c.plants+plants, c.plugs+plugs, append(c.trays, tray), append(c.each, [2]int{plants, plugs})
		}
	}
	return c
}

// standLayout is the layout of the share of plugs with a plant, a count tray by tray. A tray's share scatters by the binomial
// distribution at least and by more where trays have accidents of their own (Kleinman 1973, J. Am. Statist. Assoc. 68, 46-54). Trays are
// compared by the angle of their share, whose binomial scatter is the same for all shares (see angle); figures and intervals are shown in points.
func (t *trial) standLayout(day int) *layout {
	return t.lay(standing(day), func(tray int) (trayfigure.Figure, bool) {
		plants, plugs := t.StandOfTray(day, tray)
		return standFigure(tray, plants, plugs), plugs > 0
	})
}

func standing(day int) *layout {
	return &layout{About: trayfigure.About{Name: outcome.Stand, Unit: "%", Scale: outcome.Difference, Day: day, OfTrays: true, Needs: []trayfigure.Need{{Day: day, View: reading.Shoots}}}, angular: true}
}

// standFigure is a tray's share in %. Its variance by the binomial distribution is taken with a plant and a plug without one more than there are, so
// that a full tray does not seem to be known exactly (Agresti & Caffo 2000, Am. Statist. 54, 280-288).
func standFigure(tray, plants, plugs int) trayfigure.Figure {
	n := float64(plugs)
	p := float64(plants+1) / (n + 2)
	return trayfigure.Figure{Tray: tray, Value: 100 * float64(plants) / n, Plugs: plugs, PlugVar: 1e4 * p * (1 - p) / n, U: arithmetic.NaN, Common: arithmetic.NaN}
}

// angle is asin √((x + 3/8)/(n + 3/4)) of x in n, whose variance is 1/(4n + 2) whatever the share is (Anscombe 1948, Biometrika 35, 246-254).
func angle(f trayfigure.Figure) float64 {
	n := float64(f.Plugs)
	return math.Asin(math.Sqrt((f.Value/100*n + 0.375) / (n + 0.75)))
}

func angleSD(f trayfigure.Figure) float64 { return 1 / math.Sqrt(float64(4*f.Plugs+2)) }

// points turns a difference of two angles into one of their shares in points: sin²a − sin²b = sin(a + b)·sin(a − b).
func points(sum, difference float64) float64 {
	return 100 * math.Sin(sum) * math.Sin(math.Max(-math.Pi/2, math.Min(math.Pi/2, difference)))
}

// middle is the mean of all trays on the scale.
func (l *layout) middle() float64 {
	var ys []float64
	for _, f := range l.all() {
		ys = append(ys, l.y(f))
	}
	return arithmetic.Mean(ys)
}

// sharePoints is the weighted sum of the trays' shares in points.
func (l *layout) sharePoints(weights []float64) float64 {
	sum := 0.0
	for i, f := range l.all() {
		sum += float64(weights[i] * f.Value)
	}
	return sum
}

// wordStand gives a comparison of stands its sentence. Where trays of one treatment differ among themselves by more than chance,
// that is said, and nothing of the treatment.
func (t *trial) wordStand(c *outcome.Comparison) {
	if !c.Estimate.Known() {
		return
	}
	a, b := t.standOf(c.Treatment, c.Day), t.standOf(c.Control, c.Day)
	c.MeasuringShare = reading.Missing
	if unlike := append(a.unlike(c.Treatment), b.unlike(c.Control)...); len(unlike) > 0 {
		c.Verdict = outcome.Unclear
		c.Sentence = fmt.Sprintf("%s: stand compared with %s is unclear: %s", c.Treatment, c.Control, strings.Join(unlike, "; "))
		c.Limits = append(c.Limits, unlike...)
		return
	}
	stood := fmt.Sprintf("%d of %d plugs have a plant, compared with %[4]d of %[5]d for %[3]s", a.plants, a.plugs, c.Control, b.plants, b.plugs)
	switch c.Verdict {
	case outcome.TheseTrays:
		low, high := differenceOfShares(a.plants, a.plugs, b.plants, b.plugs)
		c.Lower, c.Upper, c.ExplainedBy, c.DF = arithmetic.Number(100*low), arithmetic.Number(100*high), reading.Missing, reading.Missing
		c.Sentence = fmt.Sprintf("%s: %s: for these trays, not for the treatments", c.Treatment, stood)
	case outcome.More, outcome.Less:
		c.Sentence = fmt.Sprintf("%s: %s: %s %s, %s (%s)", c.Treatment, stood, c.SizeAlone(), c.Verdict, c.Interval(), outcome.TraysAgainst(len(c.TrayNumbers), len(c.ControlTrays)))
	default:
		c.Sentence = fmt.Sprintf("%s: no clear difference in stand from %s: %s: %s, %s (%s)", c.Treatment, c.Control, stood, c.SizeAlone(), c.Interval(), outcome.TraysAgainst(len(c.TrayNumbers), len(c.ControlTrays)))
	}
}

// unlike says so when a treatment's own trays differ in stand by more than chance: its fullest and its emptiest one, by
// Fisher's test for as many pairs as there are (Bonferroni).
func (c count) unlike(treatment string) []string {
	n := len(c.each)
	if n < 2 {
		return nil
	}
	low, high := 0, 0
	share := func(i int) float64 { return float64(c.each[i][0]) / float64(c.each[i][1]) }
	for i := range c.each {
		if share(i) < share(low) {
			low = i
		}
		if share(i) > share(high) {
			high = i
		}
	}
	p := fisher(c.each[low][0], c.each[low][1], c.each[high][0], c.each[high][1]) * float64(n*(n-1)) / 2
	if p >= 1-outcome.Level {
		return nil
	}
	return []string{fmt.Sprintf("trays of %s differ in stand by more than chance: tray %d has %d of %d plants, tray %d has %d of %d",
		treatment, c.trays[low], c.each[low][0], c.each[low][1], c.trays[high], c.each[high][0], c.each[high][1])}
}

// fisher returns the two-sided p of Fisher's exact test for a of n against b of m.
func fisher(a, n, b, m int) float64 {
	p, err := stats.FisherExact(a, n-a, b, m-b)
	if err != nil {
		return arithmetic.NaN
	}
	return p
}

// differenceOfShares returns the interval of a/n − b/m from the two shares' Wilson intervals (Newcombe 1998, Statist. Med. 17,
// 873-890, method 10).
func differenceOfShares(a, n, b, m int) (low, high float64) {
	p, errP := stats.Wilson(a, n, outcome.Level)
	q, errQ := stats.Wilson(b, m, outcome.Level)
	if errP != nil || errQ != nil {
		return arithmetic.NaN, arithmetic.NaN
	}
	d := p.Share - q.Share
	return d - math.Hypot(p.Share-p.Lower, q.Upper-q.Share), d + math.Hypot(p.Upper-p.Share, q.Share-q.Lower)
}
