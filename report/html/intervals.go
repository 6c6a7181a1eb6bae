package html

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/html/answer"
	"traygauge/report/html/axis"
	"traygauge/report/html/colours"
)

// dayBlock holds a day's comparisons as dots and bars.
type dayBlock struct {
	Day    int
	Last   bool   // the review that is answered for
	Says   string // how many quantities and comparisons, and how many of these are clear
	Groups []intervalGroup
	Limits []dayLimit // of several quantities
	Silent string     // how many comparisons are not drawn, because they say nothing
}

// dayLimit is what limits several of a day's quantities.
type dayLimit struct{ Words, Quantities string }

// intervalGroup is one quantity on one day, on one axis.
type intervalGroup struct {
	Quantity, Unit string
	Ratio          bool
	Ticks          []axis.Tick
	None           string // where no difference is, in % of the width
	Grid           string // names its lines, which are on the page once
	Says           string // the answer in a few words: what is clear, and how much is not
	Shape          string // of its clearest row
	Rows           []intervalRow
	Shared         sharedFacts
}

// Spoken lists the rows of which there is more to say than is drawn.
func (g intervalGroup) Spoken() []intervalRow {
	return slices.DeleteFunc(slices.Clone(g.Rows), func(r intervalRow) bool { return r.Drawn && r.Tested == "" })
}

// intervalRow is one comparison. Places are in % of the axis's width.
type intervalRow struct {
	ID, Treatment, Against, Parts string
	Drawn                         bool
	At, From, To                  string
	CutLeft, CutRight             bool
	Shape                         string // dot: about treatments and clear. ring: about treatments and not clear. square: these trays or plugs only
	Estimate, Interval, Verdict   string
	Tested                        string // p; by which test is said once for all rows
	Colour                        string
	Sentence                      string
	Chance                        int // of how many exploratory comparisons it may be a chance one, though clear by itself; 0: not so
	estimate                      float64
	pair                          bool // asked for beyond the plan
}

// everyDay are the quantities that are drawn for every day, and firstAsked those that come first on the last review. For all days all are in
// comparisons.csv.
var everyDay = []string{outcome.RootArea, outcome.LeafArea}

var firstAsked = []string{outcome.RootArea, outcome.LeafArea, outcome.Stand, outcome.Chlorotic, outcome.RootBrowning}

// dayBlocks returns the days, the last review first.
func dayBlocks(p Page) (blocks []dayBlock) {
	axes := map[string]axis.Axis{}
	for _, day := range p.Compared.Days {
		blocks = append(blocks, dayBlockOf(p, day, axes))
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
	return blocks
}

// dayBlockOf gathers a day's comparisons by quantity, but for those drawn beside the answer. axes keeps the axis of each quantity for the other days.
func dayBlockOf(p Page, day int, axes map[string]axis.Axis) dayBlock {
	block, silent := dayBlock{Day: day, Last: day == p.Compared.LastDay}, 0
	for _, c := range p.Compared.On(day).Comparisons {
		switch {
		case !slices.Contains(everyDay, c.Quantity) && !block.Last:
		case report.Answered(p.Compared, c) && c.Kind == outcome.AgainstControl:
		case c.SaysNothing() || !c.Estimate.Known():
			silent++
		default:
			block.add(c, axisOf(p, c, axes))
		}
	}
	for i := range block.Groups {
		block.Groups[i].settle(p, day, block.Last)
	}
	slices.SortStableFunc(block.Groups, func(a, b intervalGroup) int { return placeOf(a.Quantity) - placeOf(b.Quantity) })
	block.takeOutShared()
	block.Says, block.Silent = saysOfDay(block.Groups), silentWords(silent)
	return block
}

// axisOf returns the axis that a comparison is drawn on: one for all days where the quantity is asked for first, else the day's.
func axisOf(p Page, c outcome.Comparison, axes map[string]axis.Axis) axis.Axis {
	key := string(c.Scale) + c.Quantity
	if a, known := axes[key]; known {
		return a
	}
	of := p.Compared
	if !slices.Contains(firstAsked, c.Quantity) {
		of = of.On(c.Day)
	}
	axes[key] = axis.Of(of, c.Quantity, c.Scale)
	return axes[key]
}

// add adds a comparison to the group of its quantity.
func (b *dayBlock) add(c outcome.Comparison, a axis.Axis) {
	i := slices.IndexFunc(b.Groups, func(g intervalGroup) bool { return g.Quantity == c.Quantity })
	if i < 0 {
		i = len(b.Groups)
		b.Groups = append(b.Groups, intervalGroup{Quantity: c.Quantity, Unit: report.DifferenceUnit(c), Ratio: c.Scale == outcome.Ratio, Ticks: a.Ticks, None: a.Place(a.None), Grid: gridID(c)})
	}
	b.Groups[i].Rows = append(b.Groups[i].Rows, rowOf(c, a))
	b.Groups[i].Shared.add(c)
}

// silentWords says that n comparisons are not drawn; "" for none.
func silentWords(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 comparison is not shown, because its interval is too wide or it could not be made. It is in comparisons.csv."
	}
	return fmt.Sprintf("%d comparisons are not shown, because their intervals are too wide or they could not be made. They are in comparisons.csv.", n)
}

// mainGroup is what is drawn beside the answer: the comparisons that it is made of.
func mainGroup(p Page) []intervalGroup {
	var groups []intervalGroup
	today := p.Compared.On(p.Compared.Answer.Day)
	var a axis.Axis
	for _, c := range today.Comparisons {
		if !report.Answered(p.Compared, c) {
			continue
		}
		if len(groups) == 0 {
			a = axis.Of(today, c.Quantity, c.Scale)
			groups = append(groups, intervalGroup{Quantity: c.Quantity, Unit: report.DifferenceUnit(c), Ratio: c.Scale == outcome.Ratio, Ticks: a.Ticks, None: a.Place(a.None), Grid: "grid-answer"})
		}
		groups[0].Rows = append(groups[0].Rows, rowOf(c, a))
		groups[0].Shared.add(c)
	}
	for i := range groups {
		groups[i].settle(p, p.Compared.Answer.Day, true)
	}
	return groups
}

// settle fills in what follows from all of a group's rows: their colours, what they share and its answer.
func (g *intervalGroup) settle(p Page, day int, linked bool) {
	tint(g.Rows, p.Trial.Plan)
	g.Shared.settle(p.Compared, day, g.Quantity, linked)
	g.Says, g.Shape = saysOf(g.Rows)
}

// placeOf orders quantities: those that are asked for first, then the others as they come.
func placeOf(quantity string) int {
	if at := slices.Index(firstAsked, quantity); at >= 0 {
		return at
	}
	return len(firstAsked)
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

func rowOf(c outcome.Comparison, a axis.Axis) intervalRow {
	row := intervalRow{ID: comparisonID(c), Treatment: c.Treatment, Against: c.Control, Estimate: withoutPoints(answer.Estimate(c)), Interval: answer.Interval(c),
		Verdict: string(c.Verdict), Tested: outcome.PWords(c.P), Sentence: c.Sentence, estimate: float64(c.Estimate), pair: c.Kind == outcome.Pair, Colour: "k-more"}
	if c.MayBeChance {
		row.Chance = c.ExploratoryN
	}
	if c.Kind == outcome.Interaction {
		row.Parts = wording.List(c.Parts)
	}
	if !c.Estimate.Known() || c.SaysNothing() || a.Place(float64(c.Estimate)) == "" {
		return row
	}
	row.Drawn, row.At = true, a.Place(float64(c.Estimate))
	if c.Lower.Known() && c.Upper.Known() {
		row.From, row.To = a.Place(float64(c.Lower)), a.Place(float64(c.Upper))
		row.CutLeft, row.CutRight = a.Cuts(float64(c.Lower), float64(c.Upper))
	}
	row.Shape = "ring"
	switch {
	case c.Inference != outcome.Trays:
		row.Shape = "square"
	case c.Verdict.Clear():
		row.Shape = "dot"
	}
	return row
}

// tint gives rows their treatments' colours.
func tint(rows []intervalRow, p *plan.Plan) {
	for i := range rows {
		if at := slices.IndexFunc(p.Treatments, func(t plan.Treatment) bool { return t.Name == rows[i].Treatment }); at >= 0 {
			rows[i].Colour = colours.Class(at)
		}
	}
}

// withoutPoints drops the unit of a difference in percentage points, which the head above the row names: on a phone it would take a second line.
func withoutPoints(estimate string) string {
	figure, _, _ := strings.Cut(estimate, " percentage points")
	return figure
}
