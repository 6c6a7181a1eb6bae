package html

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/html/axis"
	"traygauge/report/html/colours"
	"traygauge/report/table"
)

// growthBlock is one quantity over the days, a small drawing a treatment, all on the same axes.
type growthBlock struct {
	Quantity, Unit string
	Pictured       bool // its pictures are above the curves
	Days           []int
	Controls       []growthControl
	Panels         []growthPanel
	Table          []growthRow
}

// growthPanel is a treatment's trays over the days beside its control's, with pictures and with what the log notes, on one axis.
type growthPanel struct {
	Treatment, Against, Alt string
	Colour                  string
	Control                 string // whose lines it has, by their ID; "" for none
	Lines                   []growthLine
	XTicks                  []axis.Tick
	YTicks                  []yTick
	Pictures                []growthPicture
	Feedings                []string // where, in % of the width
	Marks                   []axis.Tick
}

// growthControl is the lines of a control's trays. Many panels show them, so they are on the page once.
type growthControl struct {
	ID    string
	Lines []growthLine
}

// growthPicture is a small picture of the plug that is followed, above its day.
type growthPicture struct {
	X      string
	Source template.HTMLAttr
}

// growthLine is one tray over the days. x is in % of the width, y in px.
type growthLine struct {
	Tray    int
	Control bool
	Colour  string // of a control; a treatment's line has its panel's
	Pieces  []growthPiece
	Dots    []growthDot
}

type growthPiece struct {
	X1, X2 string
	Y1, Y2 int
}

type growthDot struct {
	X    string
	Y    int
	Says string // "" where the table below says it
}

type yTick struct {
	Y     int
	Label string
}

// growthRow is one tray's figures, blank where none were measured.
type growthRow struct {
	Tray      int
	Treatment string
	Figures   []string
}

// The drawing's upper and lower edge in px, and its left and right one in %; at the right there is room for half a picture.
const (
	growthTop, growthFoot   = 10, 118
	growthLeft, growthRight = 14.0, 88.0
	growthRoom              = 0.23 // of the width, for a picture
)

// overDays is a quantity of trays that is drawn over days, by its column in trays.csv, and the view whose pictures go with it.
type overDays struct {
	quantity, unit, column string
	view                   reading.View
}

var grown = []overDays{
	{outcome.LeafArea, "mm², mean of a tray’s plants", "leaf_area_mean_mm2", reading.Shoots},
	{outcome.RootArea, "mm², mean of a tray’s plants", "root_area_mean_mm2", reading.Roots},
	{outcome.Chlorotic, "%, mean of a tray’s plants", "chlorotic_mean_pct", ""},
}

// growthBlocks draws what was measured on two days or more. v holds the pictures, nil for none.
func growthBlocks(p Page, v *viewer, events []event) []growthBlock {
	var blocks []growthBlock
	for _, q := range grown {
		if b, ok := growthBlockOf(p, q, v, events); ok {
			blocks = append(blocks, b)
		}
	}
	return blocks
}

func growthBlockOf(p Page, q overDays, v *viewer, events []event) (b growthBlock, ok bool) {
	t, c := p.Trial, report.TrayColumn(q.column)
	b = growthBlock{Quantity: q.quantity, Unit: q.unit, Pictured: q.view != ""}
	at := map[int]map[int]trayfigure.TrayDay{} // by tray and day
	most := 0.0
	for _, r := range t.Days {
		n := c.Number(r)
		if !n.Known() || r.Treatment == "" {
			continue
		}
		if at[r.Tray] == nil {
			at[r.Tray] = map[int]trayfigure.TrayDay{}
		}
		at[r.Tray][r.Day] = r
		most = math.Max(most, float64(n))
		if !slices.Contains(b.Days, r.Day) {
			b.Days = append(b.Days, r.Day)
		}
	}
	if len(b.Days) < 2 {
		return b, false
	}
	slices.Sort(b.Days)
	g := grid{firstFeeding(events, b.Days[0]), b.Days[len(b.Days)-1], niceTop(most)}
	for i, treatment := range t.Plan.Treatments {
		trays := trayNumbers(t.Plan, treatment.Name)
		panel := growthPanel{Treatment: treatment.Name, Colour: colours.Class(i), XTicks: g.xTicks(b.Days), YTicks: g.yTicks()}
		if len(treatment.CompareWith) > 0 {
			panel.Against = treatment.CompareWith[0]
			control := slices.IndexFunc(t.Plan.Treatments, func(o plan.Treatment) bool { return o.Name == panel.Against })
			panel.Control = fmt.Sprintf("control-%s-%d", q.column, control)
			if !slices.ContainsFunc(b.Controls, func(c growthControl) bool { return c.ID == panel.Control }) {
				lines := growthControl{ID: panel.Control}
				for _, n := range trayNumbers(t.Plan, panel.Against) {
					line := g.line(n, true, at[n], c)
					line.Colour = colours.Class(control)
					lines.Lines = append(lines.Lines, line)
				}
				b.Controls = append(b.Controls, lines)
			}
		}
		for _, n := range trays {
			panel.Lines = append(panel.Lines, g.line(n, false, at[n], c))
			row := growthRow{Tray: n, Treatment: treatment.Name}
			for _, day := range b.Days {
				figure := ""
				if r, ok := at[n][day]; ok {
					figure = table.WithU(c.Number(r), r.Amounts[q.quantity].U)
				}
				row.Figures = append(row.Figures, figure)
			}
			b.Table = append(b.Table, row)
		}
		panel.Alt = fmt.Sprintf("%s over time for %s; the figures are in the table below", wording.Upper(q.quantity), treatment.Name)
		panel.Pictures = g.pictures(v, treatment.Name, q.view)
		panel.Feedings, panel.Marks = g.events(events, trays)
		if len(panel.Lines) > 0 {
			b.Panels = append(b.Panels, panel)
		}
	}
	return b, true
}

// firstFeeding is the day on which the drawings begin: that of the first feeding, or of the first figures where those come before it.
func firstFeeding(events []event, first int) int {
	for _, e := range events {
		if e.fed && e.Day >= 0 && e.Day < first {
			first = e.Day
		}
	}
	return first
}

// pictures puts a treatment's pictures of a view above their days, the last one always, those before it where there is room.
func (g grid) pictures(v *viewer, treatment string, view reading.View) []growthPicture {
	var shown []growthPicture
	if v == nil || view == "" {
		return nil
	}
	at := slices.IndexFunc(v.Columns, func(c viewColumn) bool { return c.Name == treatment })
	if at < 0 {
		return nil
	}
	next := math.Inf(1)
	for _, row := range v.Columns[at].Views {
		for _, picture := range slices.SortedFunc(slices.Values(row.Pictures), func(a, b viewPicture) int { return b.Index - a.Index }) {
			day := v.Days[picture.Index].Day
			place := g.share(day)
			if row.View != view || picture.Thumb == "" || day < g.first || day > g.last || place > next {
				continue
			}
			shown = append(shown, growthPicture{g.x(day), picture.Thumb})
			next = place - growthRoom
		}
	}
	return shown
}

// events returns where a treatment's feedings are, and the marks of what else the log notes of its trays or of all, a mark a day.
func (g grid) events(events []event, trays []int) (feedings []string, marks []axis.Tick) {
	for _, e := range events {
		if e.Day < g.first || e.Day > g.last || e.Tray != 0 && !slices.Contains(trays, e.Tray) {
			continue
		}
		x := g.x(e.Day)
		at := slices.IndexFunc(marks, func(m axis.Tick) bool { return m.At == x })
		switch {
		case e.fed && !slices.Contains(feedings, x):
			feedings = append(feedings, x)
		case e.Mark == "":
		case at >= 0:
			marks[at].Label += ", " + e.Mark
		default:
			marks = append(marks, axis.Tick{At: x, Label: e.Mark})
		}
	}
	return feedings, marks
}

// grid is the common scale of a quantity's drawings: from the first to the last day, from 0 to the top.
type grid struct {
	first, last int
	top         float64
}

func (g grid) x(day int) string { return strconv.FormatFloat(100*g.share(day), 'f', 2, 64) + "%" }

// share is where a day is, as a share of the width.
func (g grid) share(day int) float64 {
	share := 0.5
	if g.last > g.first {
		share = float64(day-g.first) / float64(g.last-g.first)
	}
	return (growthLeft + (growthRight-growthLeft)*share) / 100
}

func (g grid) y(v float64) int {
	return growthFoot - int(math.Round((growthFoot-growthTop)*v/g.top))
}

func (g grid) line(tray int, control bool, at map[int]trayfigure.TrayDay, c table.Column[trayfigure.TrayDay]) growthLine {
	l := growthLine{Tray: tray, Control: control}
	var days []int
	for day := range at {
		days = append(days, day)
	}
	slices.Sort(days)
	for i, day := range days {
		dot := growthDot{X: g.x(day), Y: g.y(table.Rounded(c.Number(at[day]), c.Decimals))}
		if i > 0 {
			before := l.Dots[i-1]
			l.Pieces = append(l.Pieces, growthPiece{before.X, dot.X, before.Y, dot.Y})
		}
		l.Dots = append(l.Dots, dot)
	}
	return l
}

// xTicks names each day that has room, the last one always.
func (g grid) xTicks(days []int) []axis.Tick {
	var ticks []axis.Tick
	next := math.Inf(-1)
	room := float64(g.last-g.first) / 6
	for i, d := range days {
		last := i == len(days)-1
		if float64(d) >= next && (last || float64(g.last-d) >= room) || last {
			ticks = append(ticks, axis.Tick{At: g.x(d), Label: strconv.Itoa(d)})
			next = float64(d) + room
		}
	}
	return ticks
}

func (g grid) yTicks() []yTick {
	var ticks []yTick
	for _, share := range []float64{0, 0.5, 1} {
		ticks = append(ticks, yTick{g.y(share * g.top), table.Plain(share * g.top)})
	}
	return ticks
}

// niceTop returns a round number above v whose half is round, too.
func niceTop(v float64) float64 {
	if !(v > 0) || !reading.Number(v).Known() {
		return 1
	}
	step := math.Pow(10, math.Floor(math.Log10(v)))
	for _, by := range []float64{1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6, 8} {
		if v <= step*by {
			return step * by
		}
	}
	return step * 10
}
