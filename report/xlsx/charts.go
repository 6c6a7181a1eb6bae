package xlsx

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"
)

// The charts' colours: blue for what grew, orange for what to beware of, as on the overlays.
const (
	chartBlue   = "0054A6"
	chartOrange = "A65400"
	chartInk    = "333333"
)

// lineLooks tell treatments apart on a growth chart by colour, by marker and by dash, so that none of them carries it alone.
// The colours are the page's (report/html/colours.go).
var lineLooks = []struct {
	colour, marker string
	dash           excelize.LineDashType
}{
	{"4E5451", "circle", excelize.LineDashSolid}, {"0C61CD", "square", excelize.LineDashSolid}, {"F63C00", "triangle", excelize.LineDashSolid},
	{"00804C", "diamond", excelize.LineDashSolid}, {"B75492", "x", excelize.LineDashSolid}, {"848D1F", "circle", excelize.LineDashDash},
	{"2B8DDA", "square", excelize.LineDashDash}, {"352189", "triangle", excelize.LineDashDash}, {"569384", "diamond", excelize.LineDashDash},
	{"881F64", "x", excelize.LineDashDash}, {"9B8843", "circle", excelize.LineDashDot}, {"CA6177", "square", excelize.LineDashDot},
}

// Charts stand two beside each other on the front sheet. excelize places a chart's lower end by its own idea of a row of 15 points, 18
// px; such a row is 20 px high, so a chart that is to take 15 rows is asked for with 270 px.
const (
	chartWidthPx, chartHeightPx = 575, 270
	chartRows                   = 16 // with a gap below

	// A crowded chart takes the whole width, and is higher, for its names stand upright.
	crowdedWidthPx, crowdedHeightPx = 2*chartWidthPx + 30, 25 * 18
	crowdedRows                     = 26
	mostBesides                     = 8 // names that can be read beside each other in a chart of half the width
)

// span is a column of cells on the chart data sheet.
type span struct {
	column, first, last int
}

func (s span) String() string {
	return fmt.Sprintf("'%s'!%s:%s", chartSheet, absolute(s.column, s.first), absolute(s.column, s.last))
}

func absolute(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row, true)
	if err != nil {
		return "$A$1" // only for numbers below 1, which no caller gives
	}
	return name
}

// plot is one chart of the front sheet.
type plot struct {
	quantity     string
	title, below string // below says the unit and what the bars are
	alt, xTitle  string
	names        int     // beside each other on the x axis
	low, high    float64 // of the axis: a program that scales it by itself may leave error bars out of sight
	series       []plotSeries
	colour       string
	overDays     bool // x is a number; names otherwise
	byRatio      bool // y is a ratio, drawn so that half and double are as far from 1
}

func (p plot) crowded() bool { return p.names > mostBesides }

// plotSeries is one series with the lengths of its error bars upwards and downwards; without any, up and down are zero.
type plotSeries struct {
	name, x, y, up, down span
}

// draw puts a chart on the front sheet.
func (b *workbook) draw(at string, p plot) error {
	plain := false
	small := excelize.Font{Family: bodyFont, Size: 9, Color: chartInk}
	c := &excelize.Chart{
		Type:      excelize.Line,
		Dimension: excelize.ChartDimension{Width: chartWidthPx, Height: chartHeightPx},
		Format:    excelize.GraphicOptions{AltText: p.alt, Name: p.title, Positioning: "twoCell", OffsetX: 4, OffsetY: 4},
		Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: p.title, Font: &excelize.Font{Family: bodyFont, Size: 11, Bold: true, Color: chartInk}},
			{Text: p.below, Font: &excelize.Font{Family: bodyFont, Size: 9, Color: chartInk}}}},
		Legend:       excelize.ChartLegend{Position: "none"},
		ShowBlanksAs: "gap", VaryColors: &plain,
		Border: excelize.LineOptions{Type: excelize.LineSolid, Width: 0.75, Fill: solid("CCCCCC")},
		XAxis:  excelize.ChartAxis{Font: small, Title: axisTitle(p.xTitle)},
		YAxis:  excelize.ChartAxis{Font: small, MajorGridLines: true},
	}
	c.YAxis.Minimum, c.YAxis.Maximum = &p.low, &p.high
	if p.crowded() {
		c.Dimension = excelize.ChartDimension{Width: crowdedWidthPx, Height: crowdedHeightPx}
		c.XAxis.Alignment.TextRotation = 90
	}
	switch {
	case p.overDays:
		c.Type, c.Legend.Position, c.Legend.Font = excelize.Scatter, "right", &small
	case p.byRatio:
		c.YAxis.LogBase, c.YAxis.MajorUnit, c.YAxis.NumFmt = 2, 2, excelize.ChartNumFmt{CustomNumFmt: `"× "General`}
		c.XAxis.TickLabelPosition = excelize.ChartTickLabelLow // below all, not along the line of × 1
	}
	for i, s := range p.series {
		c.Series = append(c.Series, p.look(i, s))
	}
	if err := b.file.AddChart(frontSheet, at, c); err != nil {
		return err
	}
	b.charts++
	return b.errorBars(b.charts, p)
}

// look says how the i-th series is drawn.
func (p plot) look(i int, s plotSeries) excelize.ChartSeries {
	drawn := excelize.ChartSeries{Name: s.name.String(), Categories: s.x.String(), Values: s.y.String()}
	switch {
	case p.overDays:
		look := lineLooks[i%len(lineLooks)]
		drawn.Fill = solid(look.colour)
		drawn.Line = excelize.LineOptions{Type: excelize.LineSolid, Width: 1.75, Dash: look.dash}
		drawn.Marker = excelize.ChartMarker{Symbol: look.marker, Size: 7, Fill: solid(look.colour), Border: excelize.LineOptions{Type: excelize.LineSolid, Width: 1, Fill: solid(look.colour)}}
	default:
		drawn.Fill = solid(p.colour)
		drawn.Line = excelize.LineOptions{Type: excelize.LineNone}
		drawn.Marker = excelize.ChartMarker{Symbol: "circle", Size: 9, Fill: solid(p.colour), Border: excelize.LineOptions{Type: excelize.LineSolid, Width: 1, Fill: solid(p.colour)}}
	}
	return drawn
}

func solid(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

func axisTitle(words string) excelize.ChartTitle {
	if words == "" {
		return excelize.ChartTitle{}
	}
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: words, Font: &excelize.Font{Family: bodyFont, Size: 9, Color: chartInk}}}}
}

// upTo returns a round number at or above v to end an axis with.
func upTo(v float64) float64 {
	if !(v > 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
		if m*ten >= v {
			return m * ten
		}
	}
	return 10 * ten
}

// ratioEnds returns the powers of two that an axis of ratios from lowest to highest goes between. It stops at a sixty-fourth and at 64
// times: beyond that no one asks how much.
func ratioEnds(lowest, highest float64) (low, high float64) {
	const most = 6
	down := math.Min(math.Max(math.Ceil(-math.Log2(lowest)), 1), most)
	up := math.Min(math.Max(math.Ceil(math.Log2(highest)), 1), most)
	return math.Pow(2, -down), math.Pow(2, up)
}

// errorBars adds error bars to the n-th chart: excelize has none, so they go into the chart's own XML, before its categories and
// values, where the standard has them (ISO/IEC 29500-1, 21.2.2.55, errBars).
func (b *workbook) errorBars(n int, p plot) error {
	path := fmt.Sprintf("xl/charts/chart%d.xml", n)
	content, ok := b.file.Pkg.Load(path)
	text, isText := content.([]byte)
	if !ok || !isText {
		return fmt.Errorf("the chart %q has no part of its own", p.title)
	}
	var out bytes.Buffer
	for _, s := range p.series {
		before, after, found := cutBefore(text, "<cat>", "<xVal>")
		if !found {
			return fmt.Errorf("the chart %q has fewer series than it was given", p.title)
		}
		out.Write(before)
		if s.up != (span{}) {
			out.WriteString(errBarsXML(s.up, s.down))
		}
		end := bytes.Index(after, []byte("</ser>"))
		if end < 0 {
			return fmt.Errorf("the chart %q has a series without an end", p.title)
		}
		out.Write(after[:end])
		text = after[end:]
	}
	out.Write(text)
	// The title's second piece of text goes below the first.
	b.file.Pkg.Store(path, bytes.Replace(out.Bytes(), []byte("</a:r><a:r>"), []byte("</a:r></a:p><a:p><a:r>"), 1))
	return nil
}

// cutBefore cuts text in front of the first of the marks that it has.
func cutBefore(text []byte, marks ...string) (before, after []byte, found bool) {
	at := -1
	for _, mark := range marks {
		if i := bytes.Index(text, []byte(mark)); i >= 0 && (at < 0 || i < at) {
			at = i
		}
	}
	if at < 0 {
		return text, nil, false
	}
	return text[:at], text[at:], true
}

func errBarsXML(up, down span) string {
	amounts := func(element string, s span) string {
		return "<" + element + "><numRef><f>" + strings.ReplaceAll(s.String(), "&", "&amp;") + "</f></numRef></" + element + ">"
	}
	return `<errBars><errDir val="y"/><errBarType val="both"/><errValType val="cust"/><noEndCap val="0"/>` + amounts("plus", up) + amounts("minus", down) +
		`<spPr><a:ln w="15875"><a:solidFill><a:srgbClr val="` + chartInk + `"/></a:solidFill></a:ln></spPr></errBars>`
}
