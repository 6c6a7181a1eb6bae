package compare

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure"
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
	numbers := t.plan.TraysOf(treatment)
	slices.Sort(numbers)
	for _, tray := range numbers {
		if plants, plugs := t.standOfTray(day, tray); plugs > 0 {
			c.plants, c.plugs, c.trays, c.each = c.plants+plants, c.plugs+plugs, append(c.trays, tray), append(c.each, [2]int{plants, plugs})
		}
	}
	return c
}

// standOfTray counts a tray's plants from above and the plugs looked at. A plant under its neighbours counts as a plant. Other hidden
// plugs and excluded ones say nothing and are left out.
func (t *trial) standOfTray(day, tray int) (plants, plugs int) {
	for _, p := range t.photos[occasion{day, tray, "shoots"}].Plugs {
		switch p.State {
		case measure.Planted:
			plants, plugs = plants+1, plugs+1
		case measure.Empty:
			plugs++
		}
	}
	under := len(t.covered(quantityCalled(LeafArea), day, tray))
	return plants + under, plugs + under
}

func (c count) pct() float64 { return 100 * float64(c.plants) / float64(c.plugs) }

// stands compares the stand on a day: each treatment with its controls and, where asked, all pairs. p is adjusted by Holm for
// all that are set against one control, and for all pairs.
func (t *trial) stands(day int, o Options) []Comparison {
	var cs []Comparison
	families := map[string][]int{} // of indices
	add := func(kind Kind, treatment, control, family string) {
		if c, ok := t.stand(kind, treatment, control, day); ok {
			families[family] = append(families[family], len(cs))
			cs = append(cs, c)
		}
	}
	for i, treatment := range t.plan.Treatments {
		for _, control := range treatment.CompareWith {
			add(AgainstControl, treatment.Name, control, "against "+control)
		}
		for _, other := range t.plan.Treatments[:i] {
			if o.AllPairs {
				add(Pair, treatment.Name, other.Name, "pairs")
			}
		}
	}
	for _, family := range families {
		ps := make([]float64, len(family))
		for i, at := range family {
			ps[i] = float64(cs[at].PSingle)
		}
		for i, p := range stats.Adjust(ps, stats.Holm) {
			cs[family[i]].P, cs[family[i]].Together = number(p), len(family)
		}
	}
	for i := range cs {
		t.wordStand(&cs[i], day)
	}
	return cs
}

// stand compares two treatments' stands by Fisher's exact test. It takes plugs one by one, though plugs of one tray share
// what happens to it: its p is too small rather than too large, so that it is never a claim about a treatment.
func (t *trial) stand(kind Kind, treatment, control string, day int) (Comparison, bool) {
	a, b := t.standOf(treatment, day), t.standOf(control, day)
	c := blank()
	if a.plugs == 0 || b.plugs == 0 {
		return c, false
	}
	c.Day, c.Quantity, c.Unit, c.Kind, c.Treatment, c.Control = day, Stand, "%", kind, treatment, control
	c.Scale, c.Inference, c.Test = Difference, Plugs, "Fisher exact, plug by plug"
	c.TrayNumbers, c.ControlTrays, c.PlugsN, c.ControlPlugs = a.trays, b.trays, a.plugs, b.plugs
	c.Mean, c.ControlMean = number(a.pct()), number(b.pct())
	low, high := differenceOfShares(a.plants, a.plugs, b.plants, b.plugs)
	c.Estimate, c.Lower, c.Upper = number(a.pct()-b.pct()), number(100*low), number(100*high)
	c.PSingle = number(fisher(a.plants, a.plugs, b.plants, b.plugs))
	c.Limits = append(a.unlike(treatment), b.unlike(control)...)
	return c, true
}

// wordStand gives a comparison of stands its verdict and its sentence, by the adjusted p.
func (t *trial) wordStand(c *Comparison, day int) {
	a, b := t.standOf(c.Treatment, day), t.standOf(c.Control, day)
	words := fmt.Sprintf("%s: %d of %d plugs have a plant, with %s %d of %d", c.Treatment, a.plants, a.plugs, c.Control, b.plants, b.plugs)
	if c.P < 1-Level {
		c.Verdict = TheseTrays
		c.Sentence = words + fmt.Sprintf("; taken plug by plug that is more than chance (%s), but plugs of one tray share its accidents: this is about these trays", PWords(c.P))
		return
	}
	c.Verdict = Unclear
	c.Sentence = words + fmt.Sprintf("; that may be chance (%s)", PWords(c.P))
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
	if p >= 1-Level {
		return nil
	}
	return []string{fmt.Sprintf("trays of %s differ among themselves: tray %d has %d of %d, tray %d has %d of %d", treatment,
		c.trays[low], c.each[low][0], c.each[low][1], c.trays[high], c.each[high][0], c.each[high][1])}
}

// fisher returns the two-sided p of Fisher's exact test for a of n against b of m.
func fisher(a, n, b, m int) float64 {
	p, err := stats.FisherExact(a, n-a, b, m-b)
	if err != nil {
		return nan
	}
	return p
}

// differenceOfShares returns the interval of a/n − b/m from the two shares' Wilson intervals (Newcombe 1998, Statist. Med. 17,
// 873-890, method 10).
func differenceOfShares(a, n, b, m int) (low, high float64) {
	p, errP := stats.Wilson(a, n, Level)
	q, errQ := stats.Wilson(b, m, Level)
	if errP != nil || errQ != nil {
		return nan, nan
	}
	d := p.Share - q.Share
	return d - math.Hypot(p.Share-p.Lower, q.Upper-q.Share), d + math.Hypot(p.Upper-p.Share, q.Share-q.Lower)
}

// PWords writes a p value: "p = 0.031", "p < 0.001", or "" for none.
func PWords(p measure.Number) string {
	switch {
	case !p.Known():
		return ""
	case p < 0.001:
		return "p < 0.001"
	case p >= 0.1:
		return fmt.Sprintf("p = %.2f", math.Min(1, float64(p)))
	}
	return fmt.Sprintf("p = %.3f", float64(p))
}
