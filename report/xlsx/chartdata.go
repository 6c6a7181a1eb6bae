package xlsx

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// chartSheet holds what the front sheet's charts draw, for whoever wants to check a chart or draw another.
const chartSheet = "Chart data"

// How many characters of a name go below a chart and into its legend; the whole name is on the chart data sheet.
const longestLabel, longestInLegend = 44, 24

// label shortens a name for a chart.
func label(name string) string { return shortened(name, longestLabel) }

func shortened(name string, most int) string {
	if letters := []rune(name); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return name
}

// charted is a quantity that has a chart of its treatments.
type charted struct {
	quantity, title, unit string
	decimals              int
	colour                string
}

var chartedQuantities = []charted{
	{outcome.RootArea, "Root area", "mm²", table.AreaDecimals, chartBlue},
	{outcome.LeafArea, "Leaf area", "mm²", table.AreaDecimals, chartBlue},
	{outcome.Chlorotic, "Yellow leaf share", "%", table.PctDecimals, chartOrange},
}

// chartData fills the chart data sheet and returns the charts to be drawn of it, in their order.
func (b *workbook) chartData() ([]plot, error) {
	for column, width := range map[string]float64{"A": 36, "H": 60} {
		if err := b.file.SetColWidth(chartSheet, column, column, width); err != nil {
			return nil, err
		}
	}
	if err := b.file.SetColWidth(chartSheet, "B", "G", 15); err != nil {
		return nil, err
	}
	w := &dataWriter{b: b, row: 3}
	w.put(1, 1, "Data of the charts on the sheet “"+frontSheet+"” draw", b.styles.title)
	var ratios, areas, growth, colour []plot
	for _, q := range chartedQuantities {
		if q.unit == "mm²" {
			ratios = append(ratios, w.ratios(q)...)
			growth = append(growth, w.overDays(q)...)
			areas = append(areas, w.byTreatment(q)...)
			continue
		}
		colour = w.byTreatment(q)
	}
	if w.err != nil {
		return nil, w.err
	}
	return slices.Concat(ratios, areas, growth, colour), b.printAs(chartSheet, printing{pages: 1})
}

// dataWriter writes tables downwards and keeps the first error.
type dataWriter struct {
	b   *workbook
	row int
	err error
}

func (w *dataWriter) put(column, row int, content any, style int) {
	if w.err == nil {
		w.err = w.b.put(chartSheet, cell(column, row), content)
	}
	if w.err == nil {
		w.err = w.b.file.SetCellStyle(chartSheet, cell(column, row), cell(column, row), style)
	}
}

// known returns n with its decimals, or nothing.
func known(n reading.Number, decimals int) any {
	if !n.Known() {
		return nil
	}
	return table.Rounded(n, decimals)
}

// apart is how far b lies above a, both with their decimals, or nothing.
func apart(a, b reading.Number, decimals int) any {
	if !a.Known() || !b.Known() {
		return nil
	}
	return table.Rounded(reading.Number(table.Rounded(b, decimals)-table.Rounded(a, decimals)), decimals)
}

// table writes a heading, a row of column heads and rows, and returns the first and the last row of figures.
func (w *dataWriter) table(heading string, heads []string, rows [][]any, decimals int) (first, last int) {
	w.put(1, w.row, heading, w.b.styles.heading)
	for i, head := range heads {
		style := w.b.styles.headNumber
		if _, text := rows[0][i].(string); text {
			style = w.b.styles.head
		}
		w.put(i+1, w.row+1, head, style)
	}
	first = w.row + 2
	for k, row := range rows {
		for i, content := range row {
			style := w.b.styles.number[min(decimals, len(w.b.styles.number)-1)]
			if _, text := content.(string); text {
				style = w.b.styles.text
			}
			if n, whole := content.(int); whole {
				content, style = float64(n), w.b.styles.number[0]
			}
			w.put(i+1, first+k, content, style)
		}
	}
	last = first + len(rows) - 1
	w.row = last + 3
	return first, last
}

// mostDots is how many trays of a treatment are drawn; more than that are on the sheet of trays.
const mostDots = 12

// byTreatment makes the chart of a quantity on the last review day: a dot for each tray of each treatment.
func (w *dataWriter) byTreatment(q charted) []plot {
	var rows [][]any
	highest, dots := 0.0, 0
	for _, f := range w.b.compared().Figures {
		if f.Day == w.b.compared().LastDay && f.Quantity == q.quantity {
			dots = max(dots, min(len(f.Trays), mostDots))
		}
	}
	for _, f := range w.b.compared().Figures {
		if f.Day != w.b.compared().LastDay || f.Quantity != q.quantity {
			continue
		}
		row := []any{label(f.Treatment), known(f.Mean, q.decimals)}
		for i := range dots {
			var value any
			if i < len(f.Trays) {
				value = known(f.Trays[i].Value, q.decimals)
				highest = math.Max(highest, float64(f.Trays[i].Value))
			}
			row = append(row, value)
		}
		rows = append(rows, append(row, len(f.Trays), f.Treatment))
	}
	if len(rows) == 0 {
		return nil
	}
	day, unit := w.b.compared().LastDay, "("+q.unit+")"
	heads := []string{"treatment, as on the chart", "mean of the trays " + unit}
	for i := range dots {
		heads = append(heads, fmt.Sprintf("its tray %d of %d %s", i+1, dots, unit))
	}
	first, last := w.table(fmt.Sprintf("%s by tray, day %d", q.title, day), append(heads, "trays (n)", "treatment"), rows, q.decimals)
	axis := q.unit + " a plant"
	if q.unit == "%" {
		axis = "% of leaf area"
	}
	p := plot{quantity: q.quantity, title: fmt.Sprintf("%s by tray, day %d", q.title, day), below: axis + "; a dot is a tray", high: upTo(highest), names: len(rows), colour: q.colour,
		alt: fmt.Sprintf("Dots: %s of each tray on day %d, by treatment. The figures are on the sheet %s.", q.quantity, day, chartSheet)}
	for i := range dots {
		p.series = append(p.series, plotSeries{name: span{3 + i, first - 1, first - 1}, x: span{1, first, last}, y: span{3 + i, first, last}})
	}
	return []plot{p}
}

// ratios makes the chart of a quantity's ratios to the controls on the last review day, with their intervals.
func (w *dataWriter) ratios(q charted) []plot {
	r := w.b.compared()
	interval := "95 % interval"
	lowest, highest := 1.0, 1.0
	var rows [][]any
	for _, c := range r.Comparisons {
		if c.Day != r.LastDay || c.Quantity != q.quantity || c.Kind != outcome.AgainstControl || c.Scale != outcome.Ratio || !c.Estimate.Known() || c.SaysNothing() {
			continue
		}
		if c.Inference == outcome.TheseTraysOnly {
			interval = "95 % interval for these trays only"
		}
		for _, n := range []reading.Number{c.Estimate, c.Lower, c.Upper} {
			if n.Known() {
				lowest, highest = math.Min(lowest, float64(n)), math.Max(highest, float64(n))
			}
		}
		rows = append(rows, []any{label(c.Match()), known(c.Estimate, table.ComparisonDecimals), known(c.Lower, table.ComparisonDecimals), known(c.Upper, table.ComparisonDecimals),
			apart(c.Estimate, c.Upper, table.ComparisonDecimals), apart(c.Lower, c.Estimate, table.ComparisonDecimals), string(c.Verdict), c.Match()})
	}
	if len(rows) == 0 {
		return nil
	}
	first, last := w.table(fmt.Sprintf("%s against controls, day %d", q.title, r.LastDay), []string{"comparison, as on the chart", "ratio (×)", "ratio, from (×)",
		"ratio, to (×)", "from ratio up to its upper end (×)", "from its lower end up to ratio (×)", "verdict", "comparison"}, rows, table.ComparisonDecimals)
	low, high := ratioEnds(lowest, highest)
	return []plot{{
		quantity: q.quantity, title: fmt.Sprintf("%s, times that of its control, day %d", q.title, r.LastDay), below: "× 1 is no difference; bars: " + interval, low: low, high: high, names: len(rows), colour: q.colour, byRatio: true,
		alt: fmt.Sprintf("Dots: %s of each treatment on day %d as a ratio to its control, with the %s; × 1 is no difference. The figures are on the sheet %s.",
			q.quantity, r.LastDay, interval, chartSheet),
		series: []plotSeries{{span{2, first - 1, first - 1}, span{1, first, last}, span{2, first, last}, span{5, first, last}, span{6, first, last}}},
	}}
}

// overDays makes the chart of a quantity over the days, a line a treatment. One day makes no line.
func (w *dataWriter) overDays(q charted) []plot {
	r := w.b.compared()
	var days []int
	var treatments []string
	means := map[string]map[int]reading.Number{}
	most := 0.0
	for _, f := range r.Figures {
		if f.Quantity != q.quantity {
			continue
		}
		if means[f.Treatment] == nil {
			means[f.Treatment] = map[int]reading.Number{}
		}
		means[f.Treatment][f.Day] = f.Mean
		if f.Mean.Known() {
			most = math.Max(most, float64(f.Mean))
		}
		if !slices.Contains(days, f.Day) {
			days = append(days, f.Day)
		}
	}
	if len(days) < 2 {
		return nil
	}
	for _, t := range w.b.trial.Plan.Treatments {
		if means[t.Name] != nil {
			treatments = append(treatments, t.Name)
		}
	}
	heads := []string{"day (since sowing)"}
	for _, t := range treatments {
		heads = append(heads, t+" ("+q.unit+")")
	}
	var rows [][]any
	for _, day := range days {
		row := []any{day}
		for _, t := range treatments {
			m, ok := means[t][day]
			if !ok {
				m = reading.Missing
			}
			row = append(row, known(m, q.decimals))
		}
		rows = append(rows, row)
	}
	first, last := w.table(q.title+" over time, mean of the trays", heads, rows, q.decimals)
	shown := treatments[:min(len(treatments), len(lineLooks))]
	title := q.title + " over time"
	if len(shown) < len(treatments) {
		title += fmt.Sprintf(" (the plan’s first %d of %d treatments)", len(shown), len(treatments))
	}
	p := plot{quantity: q.quantity, title: title, xTitle: "days after sowing", below: q.unit + " a plant, mean of the trays", overDays: true, high: upTo(most),
		alt: fmt.Sprintf("Lines: %s of each treatment over time, mean of its trays. The figures are on the sheet %s.", q.quantity, chartSheet)}
	for i := range shown {
		// The legend takes its words from a row of names without units.
		w.put(i+2, last+1, shortened(treatments[i], longestInLegend), w.b.styles.caption)
		p.series = append(p.series, plotSeries{name: span{i + 2, last + 1, last + 1}, x: span{1, first, last}, y: span{i + 2, first, last}})
	}
	w.put(1, last+1, "on the chart", w.b.styles.caption)
	w.row++
	return []plot{p}
}
