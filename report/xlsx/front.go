package xlsx

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
)

// frontSheet answers the trial's question: which treatment is ahead of its control, by how much, and how sure.
const frontSheet = "Result"

// The front sheet's columns: the answers take the left ones, what limits them the right ones, and the figures all of them.
var frontWidths = []float64{24, 30, 15, 13, 14, 14, 10, 10, 10, 16, 14}

const answersEnd, limitsStart, secondChart = 5, 6, 5

// front writes the front sheet and draws the charts on it.
func (b *workbook) front(charts []plot) error {
	w := &frontWriter{b: b, row: 1, paper: newPaper()}
	for i, width := range frontWidths {
		w.do(func() error { return b.file.SetColWidth(frontSheet, columnName(i+1), columnName(i+1), width) })
	}
	w.heading()
	main, others := mainCharts(charts, b.compared().Answer.Quantity)
	w.firstCharts(main)
	w.figures("In figures", func(c outcome.Comparison) bool { return report.Answered(b.compared(), c) })
	w.newPage()
	w.answers()
	w.newPage()
	w.figures("Root area, leaf area and yellow leaf share in figures", func(c outcome.Comparison) bool {
		return c.Day == b.compared().LastDay && slices.Contains(inFigures, c.Quantity) && !report.Answered(b.compared(), c)
	})
	w.charts(others)
	if w.err != nil {
		return w.err
	}
	return b.printAs(frontSheet, printing{area: areaOf(len(frontWidths), w.paper.last(max(w.row-1, 1)))})
}

// mainCharts takes out the charts of the main question's quantity, at most two: its ratios, and its trays.
func mainCharts(all []plot, quantity string) (main, others []plot) {
	for _, p := range all {
		if p.quantity == quantity && !p.overDays && !p.crowded() && len(main) < 2 {
			main = append(main, p)
		} else {
			others = append(others, p)
		}
	}
	return main, others
}

// firstCharts draws the main question's charts below the answer.
func (w *frontWriter) firstCharts(all []plot) {
	for i, p := range all {
		w.do(func() error { return w.b.draw(cell(1+i*(secondChart-1), w.row), p) })
	}
	if len(all) > 0 {
		w.chartHeights(chartRows)
		w.row += chartRows
	}
}

// chartHeights gives rows below a chart their height: a row without one of its own has that which suits the program that opens the file.
func (w *frontWriter) chartHeights(rows int) {
	for row := range rows {
		w.do(func() error { return w.b.file.SetRowHeight(frontSheet, w.row+row, 15) })
	}
}

// compared is the trial's comparisons, empty ones when there are none.
func (b *workbook) compared() *outcome.Result {
	if b.o.Compared == nil {
		return &outcome.Result{LastDay: -1, Limits: report.LimitsOf(b.trial)}
	}
	return b.o.Compared
}

// frontWriter writes downwards and keeps the first error.
type frontWriter struct {
	b     *workbook
	row   int
	paper paper
	err   error
}

// newPage begins a page with the next row.
func (w *frontWriter) newPage() {
	if !w.paper.begins(w.row) {
		w.do(func() error { return w.b.file.InsertPageBreak(frontSheet, cell(1, w.row)) })
		w.paper.tops = append(w.paper.tops, w.row)
	}
}

func (w *frontWriter) do(step func() error) {
	if w.err == nil {
		w.err = step()
	}
}

// words writes text over the columns from one to another, and returns how many lines it takes.
func (w *frontWriter) words(from, to int, text string, style int) (lines int) {
	w.do(func() error { return w.b.styled(frontSheet, cell(from, w.row), text, style) })
	width := 0.0
	for _, c := range frontWidths[from-1 : to] {
		width += c
	}
	if to > from {
		w.do(func() error { return w.b.file.MergeCell(frontSheet, cell(from, w.row), cell(to, w.row)) })
	}
	return linesOf(text, width-2)
}

// height makes the row high enough for so many lines and goes on to the next.
func (w *frontWriter) height(lines int) {
	if lines > 1 {
		w.do(func() error { return w.b.file.SetRowHeight(frontSheet, w.row, heightOf(lines)) })
		w.paper.tall[w.row] = lines
	}
	w.row++
}

func (w *frontWriter) heading() {
	p, r := w.b.trial.Plan, w.b.compared()
	title := p.Title
	if title == "" {
		title = "Trial"
	}
	w.words(1, len(frontWidths), title, w.b.styles.title)
	w.row++
	var facts []string
	if r.LastDay >= 0 {
		facts = append(facts, fmt.Sprintf("Day %d after sowing, %s", r.LastDay, p.DateOf(r.LastDay).Format("2 January 2006")))
	}
	if p.Crop != "" {
		facts = append(facts, "crop: "+p.Crop)
	}
	facts = append(facts, wording.Counted(len(p.Treatments), "treatment", "treatments")+" in "+wording.Counted(len(p.Trays), "tray", "trays"))
	w.height(w.words(1, len(frontWidths), strings.Join(facts, "; "), w.b.styles.captionWrapped))
	short := r.Answer.Short
	if short == "" {
		short = "No comparison is possible yet. The reasons are on the right."
	}
	w.height(w.words(1, len(frontWidths), short, w.b.styles.strong))
	w.height(w.words(1, len(frontWidths), r.Answer.Note, w.b.styles.captionWrapped))
	for _, x := range r.Without {
		w.height(w.words(1, len(frontWidths), x.Words+".", w.b.styles.captionWrapped))
	}
	for _, l := range r.MustKnow {
		w.height(w.words(1, len(frontWidths), wording.Upper(l)+".", w.b.styles.captionWrapped))
	}
	w.row++
}

// item is one line of a list: text in its style.
type item struct {
	text  string
	style int
}

// answers writes the sentences, and beside them what limits them. The rows are one line high; what takes more goes over several of
// them, so that the two lists do not pull each other apart.
func (w *frontWriter) answers() {
	w.words(1, answersEnd, "In words", w.b.styles.heading)
	w.words(limitsStart, len(frontWidths), "What this trial cannot show", w.b.styles.heading)
	w.row++
	today := w.b.compared().On(w.b.compared().LastDay)
	top := w.row
	left := w.list(1, answersEnd, w.b.sentences(today))
	w.row = top
	right := w.list(limitsStart, len(frontWidths), w.b.limits(today))
	w.row = max(left, right) + 1
}

// list writes items below each other and returns the row after them.
func (w *frontWriter) list(from, to int, items []item) int {
	width := 0.0
	for _, c := range frontWidths[from-1 : to] {
		width += c
	}
	for _, it := range items {
		lines := linesOf(it.text, width-3)
		w.do(func() error { return w.b.styled(frontSheet, cell(from, w.row), it.text, it.style) })
		w.do(func() error { return w.b.file.MergeCell(frontSheet, cell(from, w.row), cell(to, w.row+lines-1)) })
		w.row += lines
	}
	return w.row
}

// sentences lists what is to be said of each pair of treatments.
func (b *workbook) sentences(today *outcome.Result) []item {
	var list []item
	for _, match := range today.Matches() {
		list = append(list, item{wording.Upper(match[0].Match()), b.styles.strong})
		for _, c := range match {
			if c.Told() {
				list = append(list, item{wording.Upper(c.Sentence) + ".", b.styles.wrapped})
			}
		}
	}
	if len(b.compared().Doses) > 0 {
		list = append(list, item{"Doses", b.styles.strong})
	}
	for _, d := range b.compared().Doses {
		list = append(list, item{d.Words + ".", b.styles.wrapped})
	}
	if len(list) > 0 {
		list = append(list, item{"All other quantities and days are on the sheet “" + comparisonsSheet + "”.", b.styles.captionWrapped})
	}
	return list
}

// limits lists what limits today's comparisons: of all first, then of those that are shown, each once.
func (b *workbook) limits(today *outcome.Result) []item {
	var list []item
	var seen []string
	add := func(limits []string) {
		for _, l := range limits {
			if !slices.Contains(seen, l) {
				seen = append(seen, l)
				list = append(list, item{"• " + wording.Upper(strings.TrimSuffix(l, ".")) + ".", b.styles.wrapped})
			}
		}
	}
	add(today.Limits)
	for _, c := range today.Comparisons {
		if c.Told() {
			add(c.Limits)
		}
	}
	list = append(list, item{"Cautions", b.styles.strong})
	for _, c := range report.ResultCautions(b.trial.Public) {
		list = append(list, item{"• " + c, b.styles.wrapped})
	}
	return list
}

// figureHeads are the columns of the front sheet's figures.
var figureHeads = []string{"treatment", "against", "quantity", "treatment, mean (in its unit)", "control, mean (in its unit)", "difference: × or percentage points",
	"95 %, from", "95 %, to", "p, adjusted (0 to 1)", "verdict", "trays (n against n)"}

// inFigures are the quantities whose comparisons stand on the front sheet; all others have a sheet of their own.
var inFigures = []string{outcome.RootArea, outcome.LeafArea, outcome.Chlorotic}

// figures writes comparisons as numbers that show the same digits as the terminal.
func (w *frontWriter) figures(heading string, wanted func(outcome.Comparison) bool) {
	var rows []outcome.Comparison
	for _, match := range w.b.compared().Matches() {
		for _, c := range match {
			if c.Kind != outcome.Pair && wanted(c) {
				rows = append(rows, c)
			}
		}
	}
	if len(rows) == 0 {
		return
	}
	w.words(1, len(frontWidths), heading, w.b.styles.heading)
	w.row++
	for i, head := range figureHeads {
		style := w.b.styles.headNumber
		if i < 3 || i > 8 {
			style = w.b.styles.head
		}
		w.words(i+1, i+1, head, style)
	}
	w.height(3)
	for _, c := range rows {
		w.figure(c)
	}
	w.row++
}

func (w *frontWriter) figure(c outcome.Comparison) {
	against := c.Control
	if c.Kind == outcome.Interaction {
		against = fmt.Sprintf("%s and %s combined", c.Parts[0], c.Parts[1])
	}
	verdict := w.b.styles.text
	if c.Verdict.Clear() {
		verdict = w.b.styles.strongText
	}
	if c.MayBeChance {
		verdict = w.b.styles.textWrapped
	}
	lines := max(w.words(1, 1, c.Treatment, w.b.styles.textWrapped), w.words(2, 2, against, w.b.styles.textWrapped))
	w.words(3, 3, c.Quantity, w.b.styles.text)
	controlMean := c.ControlMean
	if c.Kind == outcome.Interaction {
		controlMean = reading.Missing // its base is no control
	}
	unit := strings.TrimSpace(c.Unit)
	w.number(4, meanFigure(c.Mean, unit))
	w.number(5, meanFigure(controlMean, unit))
	w.number(6, estimateFigure(c))
	if c.SaysNothing() {
		w.words(7, 8, c.IntervalWords(), w.b.styles.text)
	}
	w.number(7, endFigure(c, c.Lower, c.Upper))
	w.number(8, endFigure(c, c.Upper, c.Lower))
	w.number(9, pFigure(c.P))
	lines = max(lines, w.words(10, 10, c.VerdictWords(), verdict))
	w.words(11, 11, fmt.Sprintf("%d against %d", len(c.TrayNumbers), len(c.ControlTrays)), w.b.styles.text)
	w.height(lines)
}

func (w *frontWriter) number(column int, f shown) {
	if !f.value.Known() {
		return
	}
	w.do(func() error {
		style, err := w.b.styleFor(f.format)
		if err != nil {
			return err
		}
		at := cell(column, w.row)
		if err := w.b.put(frontSheet, at, float64(f.value)); err != nil {
			return err
		}
		return w.b.file.SetCellStyle(frontSheet, at, at, style)
	})
}

// charts draws the charts, two beside each other and crowded ones by themselves, below what is on the page already where they fit.
func (w *frontWriter) charts(all []plot) {
	for len(all) > 0 {
		now, rows := all[:1], crowdedRows
		if !all[0].crowded() {
			rows = chartRows
			if len(all) > 1 && !all[1].crowded() {
				now = all[:2]
			}
		}
		if _, used := w.paper.at(w.row); used+rows > pageLines {
			w.newPage()
		}
		w.chartHeights(rows)
		for i, p := range now {
			w.do(func() error { return w.b.draw(cell(1+i*(secondChart-1), w.row), p) })
		}
		w.row, all = w.row+rows, all[len(now):]
	}
}

// generalPunctuation is the block of Unicode that has dashes and the curved apostrophe, as narrow as letters.
var generalPunctuation = &unicode.RangeTable{R16: []unicode.Range16{{Lo: 0x2000, Hi: 0x206f, Stride: 1}}}

// linesOf says how many lines words take in a column that is so many characters wide. A column's width is counted in digits;
// an eighth more of a text's letters go into it, and still more in the fonts tried. What is wide in itself counts twice.
func linesOf(words string, width float64) int {
	lines := 0
	width *= 1.13
	for _, paragraph := range strings.Split(words, "\n") {
		lines++
		used := 0.0
		for _, word := range strings.Fields(paragraph) {
			long := 0.0
			for _, r := range word {
				long++
				if r >= 0x1100 && !unicode.Is(generalPunctuation, r) {
					long++
				}
			}
			switch {
			case used > 0 && used+1+long > width:
				lines++
				used = long
			case used > 0:
				used += 1 + long
			default:
				used = long
			}
			for used > width { // a word that is longer than a line
				lines++
				used -= width
			}
		}
	}
	return lines
}

// heightOf is a row's height in points for so many lines: a program that opens the file does not always work it out. No row
// can be higher than 409.
func heightOf(lines int) float64 { return math.Min(409, 15*float64(lines)+1) }
