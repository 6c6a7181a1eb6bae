package html

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/table"
)

// dayBlock holds a day's comparisons as dots and bars.
type dayBlock struct {
	Day    int
	Last   bool // the review that is answered for
	Groups []intervalGroup
	Others []intervalGroup // quantities of second interest, folded
	Silent string          // how many comparisons are not drawn, because they say nothing
}

// intervalGroup is one quantity on one day, on one axis.
type intervalGroup struct {
	Quantity, Unit string
	Ratio          bool
	Ticks          []tick
	None           string // where no difference is, in % of the width
	Grid           string // names its lines, which are on the page once
	Rows           []intervalRow
}

type tick struct {
	At, Label string
	value     float64
}

// intervalRow is one comparison. Places are in % of the axis's width.
type intervalRow struct {
	ID, Treatment, Against, Parts string
	Drawn                         bool
	At, From, To                  string
	CutLeft, CutRight             bool
	Shape                         string // dot: about treatments and clear. ring: about treatments and not clear. square: these trays or plugs only
	Estimate, Interval, Verdict   string
	Mean, ControlMean             string
	Trays                         []trayLink
	ControlTrays                  []trayLink
	How, Takes                    string
	Limits                        []string
	Colour                        string
	Sentence                      string
	estimate                      float64
	pair                          bool // asked for beyond the plan
}

// unlink leaves the trays' numbers without their links, which would be a sixth of a long trial's page.
func (r *intervalRow) unlink() {
	for i := range r.Trays {
		r.Trays[i].ID = ""
	}
	for i := range r.ControlTrays {
		r.ControlTrays[i].ID = ""
	}
}

// trayLink leads to a tray's photo in the evidence; ID is "" for a number without a link.
type trayLink struct {
	Number int
	ID     string
}

// everyDay are the quantities that are drawn for every day, and firstAsked those that are drawn openly on the last review. The others are folded
// there; for all days all are in comparisons.csv.
var everyDay = []string{outcome.RootArea, outcome.LeafArea}

var firstAsked = []string{outcome.RootArea, outcome.LeafArea, outcome.Stand, outcome.Chlorotic, outcome.RootBrowning}

// dayBlocks returns the days, the last review first, and the names of all quantities drawn.
func dayBlocks(p Page) (blocks []dayBlock, names []string) {
	axes := map[string]axis{}
	for _, day := range p.Compared.Days {
		block := dayBlock{Day: day, Last: day == p.Compared.LastDay}
		silent := 0
		for _, c := range p.Compared.On(day).Comparisons {
			if !slices.Contains(everyDay, c.Quantity) && !block.Last {
				continue
			}
			if report.Answered(p.Compared, c) && c.Kind == outcome.AgainstControl { // drawn beside the answer
				continue
			}
			if c.SaysNothing() || !c.Estimate.Known() {
				silent++
				continue
			}
			groups, of := &block.Groups, p.Compared
			if !slices.Contains(firstAsked, c.Quantity) {
				groups, of = &block.Others, p.Compared.On(day)
			}
			key := string(c.Scale) + c.Quantity
			a, known := axes[key]
			if !known {
				a = axisOf(of, c.Quantity, c.Scale)
				axes[key] = a
			}
			i := slices.IndexFunc(*groups, func(g intervalGroup) bool { return g.Quantity == c.Quantity })
			if i < 0 {
				i = len(*groups)
				*groups = append(*groups, intervalGroup{Quantity: c.Quantity, Unit: report.DifferenceUnit(c), Ratio: c.Scale == outcome.Ratio, Ticks: a.ticks, None: a.place(a.none), Grid: gridID(c)})
				if !slices.Contains(names, c.Quantity) {
					names = append(names, c.Quantity)
				}
			}
			row := rowOf(c, a)
			if !block.Last {
				row.unlink()
			}
			(*groups)[i].Rows = append((*groups)[i].Rows, row)
		}
		for _, g := range append(slices.Clone(block.Groups), block.Others...) {
			tint(g.Rows, p.Trial.Plan)
		}
		slices.SortStableFunc(block.Groups, func(a, b intervalGroup) int {
			return slices.Index(firstAsked, a.Quantity) - slices.Index(firstAsked, b.Quantity)
		})
		switch {
		case silent == 1:
			block.Silent = "1 comparison is not drawn: its interval spans everything, or nothing could be compared. It is in comparisons.csv."
		case silent > 1:
			block.Silent = fmt.Sprintf("%d comparisons are not drawn: their intervals span everything, or nothing could be compared. They are in comparisons.csv.", silent)
		}
		blocks = append(blocks, block)
	}
	slices.SortStableFunc(blocks, func(a, b dayBlock) int {
		switch {
		case a.Last != b.Last && a.Last:
			return -1
		case a.Last != b.Last:
			return 1
		}
		return b.Day - a.Day
	})
	return blocks, names
}

// mainGroup is what is drawn beside the answer: the comparisons that it is made of.
func mainGroup(p Page) []intervalGroup {
	var groups []intervalGroup
	today := p.Compared.On(p.Compared.Answer.Day)
	var a axis
	for _, c := range today.Comparisons {
		if !report.Answered(p.Compared, c) {
			continue
		}
		if len(groups) == 0 {
			a = axisOf(today, c.Quantity, c.Scale)
			groups = append(groups, intervalGroup{Quantity: c.Quantity, Unit: report.DifferenceUnit(c), Ratio: c.Scale == outcome.Ratio, Ticks: a.ticks, None: a.place(a.none), Grid: "grid-answer"})
		}
		groups[0].Rows = append(groups[0].Rows, rowOf(c, a))
	}
	for _, g := range groups {
		tint(g.Rows, p.Trial.Plan)
	}
	return groups
}

// gridID names the lines of a quantity's drawing on a day.
func gridID(c outcome.Comparison) string {
	return fmt.Sprintf("grid-%d-%s", c.Day, strings.ReplaceAll(c.Quantity, " ", "-"))
}

// comparisonID names a comparison in links. Names may hold anything, so they are digested.
func comparisonID(c outcome.Comparison) string {
	h := fnv.New64a()
	fmt.Fprintf(h, "%s\x00%s\x00%s\x00%s", c.Kind, c.Treatment, c.Control, strings.Join(c.Parts, "\x00"))
	return fmt.Sprintf("c%d-%s-%x", c.Day, strings.ReplaceAll(c.Quantity, " ", "-"), h.Sum64())
}

func rowOf(c outcome.Comparison, a axis) intervalRow {
	row := intervalRow{ID: comparisonID(c), Treatment: c.Treatment, Against: c.Control, Estimate: estimateWords(c), Interval: intervalWords(c),
		Verdict: string(c.Verdict), Mean: c.MeanWords(), ControlMean: c.ControlWords(), Limits: c.Limits, How: howWords(c), Takes: c.TakesWords(),
		Sentence: c.Sentence, estimate: float64(c.Estimate), pair: c.Kind == outcome.Pair, Colour: "k-more"}
	if c.Kind == outcome.Interaction {
		row.Parts = wording.List(c.Parts)
	}
	view := viewOf(c.Quantity)
	for _, n := range c.TrayNumbers {
		row.Trays = append(row.Trays, trayLink{n, trayID(n, c.Day, view)})
	}
	for _, n := range c.ControlTrays {
		row.ControlTrays = append(row.ControlTrays, trayLink{n, trayID(n, c.Day, view)})
	}
	if !c.Estimate.Known() || c.SaysNothing() || a.place(float64(c.Estimate)) == "" {
		return row
	}
	row.Drawn, row.At = true, a.place(float64(c.Estimate))
	if c.Lower.Known() && c.Upper.Known() {
		row.From, row.To = a.place(float64(c.Lower)), a.place(float64(c.Upper))
		row.CutLeft, row.CutRight = float64(c.Lower) < a.low, float64(c.Upper) > a.high
	}
	row.Shape = "ring"
	switch {
	case c.Inference != outcome.Trays:
		row.Shape = "square"
	case isClear(c):
		row.Shape = "dot"
	}
	return row
}

// isClear reports whether a comparison claims a difference between treatments.
func isClear(c outcome.Comparison) bool {
	return c.Verdict == outcome.More || c.Verdict == outcome.Less
}

// tint gives rows their treatments' colours.
func tint(rows []intervalRow, p *plan.Plan) {
	for i := range rows {
		if at := slices.IndexFunc(p.Treatments, func(t plan.Treatment) bool { return t.Name == rows[i].Treatment }); at >= 0 {
			rows[i].Colour = colourClass(at)
		}
	}
}

// howWords says by which test, and how much of an interval is measuring.
func howWords(c outcome.Comparison) string {
	var words []string
	if c.Test != "" {
		words = append(words, "test: "+c.Test)
	}
	if p := outcome.PWords(c.P); p != "" {
		if c.Together > 1 {
			p += fmt.Sprintf(", adjusted for %d comparisons", c.Together)
		}
		words = append(words, p)
	}
	if c.TrayVariation.Known() {
		words = append(words, "tray-to-tray variation "+c.VariationWords(c.TrayVariation))
	}
	if c.PlugVariation.Known() {
		words = append(words, "between plugs of one tray "+c.VariationWords(c.PlugVariation))
	}
	if c.MeasuringShare.Known() {
		words = append(words, fmt.Sprintf("at most %s %% of the uncertainty comes from measuring", table.Digits(c.MeasuringShare, 0)))
	}
	return strings.Join(words, "; ")
}

// viewOf is the photo that a quantity rests on most.
func viewOf(quantity string) reading.View {
	if strings.Contains(quantity, "root") {
		return reading.Roots
	}
	return reading.Shoots
}

// axis turns a ratio or a difference into a place. Ratios go on a logarithmic axis, where twice as much and half as much are equally far
// from none.
type axis struct {
	log, drawn      bool
	low, high, none float64
	ticks           []tick
}

// The ends beyond which an interval is cut, with an arrow; a ratio known no better than to a factor of 30 is not known.
const (
	leastRatio = 1.0 / 30
	mostRatio  = 30.0
)

// axisOf is the axis that a quantity has on the days on which it is compared on that scale.
func axisOf(r *outcome.Result, quantity string, scale outcome.Scale) axis {
	a := axis{log: scale == outcome.Ratio}
	var ends, estimates []float64
	for _, c := range r.Comparisons {
		if c.Quantity != quantity || c.Scale != scale || !c.Estimate.Known() || c.SaysNothing() {
			continue
		}
		estimates = append(estimates, float64(c.Estimate))
		if c.Lower.Known() && c.Upper.Known() {
			ends = append(ends, float64(c.Lower), float64(c.Upper))
		}
	}
	if len(estimates) == 0 {
		return a
	}
	a.drawn = true
	all := append(ends, estimates...)
	if a.log {
		a.none = 1
		a.low, a.high = math.Max(leastRatio, min(1/1.1, slices.Min(all)/1.05)), math.Min(mostRatio, max(1.1, slices.Max(all)*1.05))
		a.low, a.high = math.Min(a.low, 1/1.1), math.Max(a.high, 1.1)
		a.ticks = a.ratioTicks()
		return a
	}
	a.low, a.high = min(0, slices.Min(all)), max(0, slices.Max(all))
	if a.high == a.low {
		a.low, a.high = -1, 1
	}
	room := (a.high - a.low) * 0.06
	a.low, a.high = a.low-room, a.high+room
	a.ticks = a.differenceTicks()
	return a
}

// place returns where v is, in % of the axis's width; beyond an end it is at the end. "" for what has no place.
func (a axis) place(v float64) string {
	if !a.drawn || math.IsNaN(v) || a.log && v < 0 {
		return ""
	}
	return strconv.FormatFloat(100*a.share(v), 'f', 2, 64) + "%"
}

// share is place as a share of the width.
func (a axis) share(v float64) float64 {
	low, high := a.low, a.high
	v = math.Min(math.Max(v, low), high)
	if a.log {
		low, high, v = math.Log(low), math.Log(high), math.Log(v)
	}
	const margin = 0.03 // at both ends, for labels and arrows
	return margin + (1-2*margin)*(v-low)/(high-low)
}

// ratioTicks takes the finest of three sets of round ratios that leaves room for its labels on a phone.
func (a axis) ratioTicks() []tick {
	var ticks []tick
	for _, set := range [][]float64{
		{0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6},
		{0.5, 0.67, 0.8, 1, 1.25, 1.5, 2, 3},
		{0.25, 0.5, 1, 2, 4},
		{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20},
		{0.1, 1, 10},
	} {
		ticks = nil
		for _, v := range set {
			if v >= a.low && v <= a.high {
				ticks = append(ticks, tick{a.place(v), strconv.FormatFloat(v, 'f', -1, 64), v})
			}
		}
		if len(ticks) <= 6 && len(ticks) >= 2 && a.low >= set[0]/2 && a.high <= set[len(set)-1]*2 {
			break
		}
	}
	return ticks
}

func (a axis) differenceTicks() []tick {
	step := math.Pow(10, math.Floor(math.Log10((a.high-a.low)/3)))
	for _, by := range []float64{5, 2} {
		if (a.high-a.low)/(step*by) >= 3 {
			step *= by
			break
		}
	}
	var ticks []tick
	for i := math.Ceil(a.low / step); i*step <= a.high; i++ {
		label := strconv.FormatFloat(math.Abs(math.Round(i)*step), 'g', 3, 64)
		switch {
		case i > 0:
			label = "+" + label
		case i < 0:
			label = "−" + label
		}
		ticks = append(ticks, tick{a.place(i * step), label, i * step})
	}
	return ticks
}
