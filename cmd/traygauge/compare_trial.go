package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
	"traygauge/report"
)

// trialOptions say what of a trial's comparisons is printed.
type trialOptions struct {
	JSON     bool
	Day      int // -1: the last review
	AllPairs bool
	All      bool // sentences, all quantities, growth and colour, all limits
}

// runCompareTrial prints the comparisons of the trial in folder dir.
func runCompareTrial(opts trialOptions, dir string, std *streams) error {
	p, r, doubtful, err := compareTrial(dir, compare.Options{AllPairs: opts.AllPairs}, std)
	if err != nil {
		return err
	}
	if opts.Day >= 0 {
		if !slices.Contains(r.Days, opts.Day) {
			return fmt.Errorf("there is no usable photo of day %d; there are photos of %s", opts.Day, daysInWords(r.Days))
		}
		r = r.On(opts.Day)
	}
	if opts.JSON {
		enc := json.NewEncoder(std.Out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		err = enc.Encode(comparedOf(r))
	} else {
		day := opts.Day
		if day < 0 {
			day = r.LastDay
		}
		err = writeComparisons(std.Out, p, r, day, opts.All)
	}
	if err != nil {
		return err
	}
	return needLooking(doubtful)
}

// compareTrial reads a trial and compares its treatments. doubtful is how many readings are broken or not of this plan, program and photos any
// more; they are printed.
func compareTrial(dir string, o compare.Options, std *streams) (p *plan.Plan, r *compare.Result, doubtful int, err error) {
	p, err = planWithoutMistakes(dir, std)
	if err != nil {
		return nil, nil, 0, err
	}
	readings, broken := measure.LoadReadings(dir)
	for _, b := range broken {
		fmt.Fprintln(std.Err, b)
	}
	if len(readings) == 0 {
		return nil, nil, 0, fmt.Errorf("no readings in %s: run `traygauge measure %s` first", filepath.Join(dir, trialdir.ReadingsFolder), dir)
	}
	doubtful = len(broken) + len(tellDoubtfulReadings(std, p, dir, readings))
	readings = measure.Together(p, readings)
	r, err = compareReadings(p, readings, dir, o, std)
	return p, r, doubtful, err
}

// compareReadings compares a trial's treatments from its readings and its log.
func compareReadings(p *plan.Plan, readings []measure.Reading, dir string, o compare.Options, std *streams) (*compare.Result, error) {
	log, findings, err := plan.LoadLog(dir)
	if err != nil {
		return nil, err
	}
	for _, f := range findings {
		fmt.Fprintln(std.Err, f)
	}
	return compare.Of(p, readings, log, o), nil
}

// comparedJSON is what is printed of comparisons as JSON. Its rows have the names of the columns of comparisons.csv.
type comparedJSON struct {
	Title       string               `json:"title"`
	Days        []int                `json:"days"`
	LastDay     int                  `json:"last_day"`
	Answer      compare.Answer       `json:"answer"`
	Comparisons []map[string]any     `json:"comparisons"`
	Doses       []compare.DoseTrend  `json:"doses"`
	Places      []compare.Place      `json:"places"`
	Outliers    []compare.Outlier    `json:"outliers"`
	Outlying    []compare.Outlying   `json:"outlying_trays"`
	Without     []compare.Without    `json:"without"`
	Trays       []compare.TrayGrowth `json:"growth_and_colour"`
	Limits      []string             `json:"limits"`
}

func comparedOf(r *compare.Result) comparedJSON {
	return comparedJSON{r.Title, r.Days, r.LastDay, r.Answer, report.ComparisonRecords(r), append([]compare.DoseTrend{}, r.Doses...), append([]compare.Place{}, r.Places...), append([]compare.Outlier{}, r.Outliers...),
		append([]compare.Outlying{}, r.Outlying...), append([]compare.Without{}, r.Without...), r.Trays, r.Limits}
}

// writeAnswer writes the answer to the main question, a line a treatment and control.
func writeAnswer(out *strings.Builder, r *compare.Result) {
	writeParagraph(out, "", r.Answer.Short)
	for _, l := range r.Answer.Lines {
		said := fmt.Sprintf("%s against %s: %s: %s", l.Treatment, l.Control, l.Verdict, l.Words)
		if l.Takes != "" {
			said += "; " + l.Takes
		}
		writeItem(out, said+".")
	}
	for _, w := range r.Without {
		writeItem(out, w.Words+".")
	}
	writeParagraph(out, "", r.Answer.Note)
	for _, d := range r.Doses {
		writeItem(out, d.Words+".")
	}
}

// writeComparisons writes one day's comparisons for people: the answer and one table, and the rest where all is asked for.
func writeComparisons(w io.Writer, p *plan.Plan, r *compare.Result, day int, all bool) error {
	var out strings.Builder
	if len(r.Days) == 0 {
		fmt.Fprintln(&out, strings.Join(r.Limits, "\n"))
		_, err := io.WriteString(w, out.String())
		return err
	}
	fmt.Fprintf(&out, "%s: day %d (%s)\n\n", tame(r.Title), day, p.DateOf(day).Format("2006-01-02"))
	writeAnswer(&out, r)
	today := r.On(day)
	if !all {
		writeTold(&out, today)
		if len(today.MustKnow) > 0 {
			out.WriteString("\n")
		}
		for _, l := range today.MustKnow {
			writeItem(&out, upperFirst(l)+".")
		}
		rest := "--all shows every quantity, growth and colour, and what limits the results"
		if len(r.Days) > 1 {
			rest += fmt.Sprintf("; --day shows another day: there are photos of %s", daysInWords(r.Days))
		}
		writeParagraph(&out, "\n", rest+".")
		_, err := io.WriteString(w, out.String())
		return err
	}
	writeWords(&out, today)
	writeGrowing(&out, today)
	writeTables(&out, today)
	writeVariation(&out, today)
	if len(r.Outliers) > 0 {
		fmt.Fprintln(&out, "\nPlugs that stand out (all are counted): look at them, and exclude those with a reason")
	}
	for _, o := range r.Outliers {
		writeItem(&out, o.Words+".")
	}
	if len(r.Places) > 0 {
		fmt.Fprintln(&out, "\nPosition on the bench and in the tray")
	}
	for _, place := range r.Places {
		writeItem(&out, place.Words+".")
	}
	fmt.Fprintln(&out, "\nWhat limits these results")
	for _, l := range append(limitsOnce(today), r.Limits...) {
		writeItem(&out, l)
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// writeTold writes one table: the sizes, and what else is clear, of each treatment and control.
func writeTold(out *strings.Builder, r *compare.Result) {
	rows := [][]string{{"treatment", "against", "quantity", "difference", "95 % interval", "p", "verdict"}}
	for _, match := range r.Matches() {
		for _, c := range match {
			if !c.Told() || c.Quantity == compare.Stand && c.Verdict != compare.More && c.Verdict != compare.Less {
				continue
			}
			against := c.Control
			if c.Kind == compare.Interaction {
				against = list(c.Parts) + " together"
			}
			rows = append(rows, []string{c.Treatment, against, c.Quantity, c.EstimateWords(), c.IntervalWords(), pFigure(c), string(c.Verdict)})
		}
	}
	if len(rows) > 1 {
		out.WriteString("\n")
		writeAligned(out, rows)
	}
}

// list joins words: "a", "a and b".
func list(words []string) string { return strings.Join(words, " and ") }

func upperFirst(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(s[size:], ".")
}

func pFigure(c compare.Comparison) string {
	return strings.TrimPrefix(strings.TrimPrefix(compare.PWords(c.P), "p = "), "p ")
}

// writeWords writes the sentences that matter for each pair of treatments.
func writeWords(out *strings.Builder, r *compare.Result) {
	for _, match := range r.Matches() {
		fmt.Fprintf(out, "\n%s\n", tame(match[0].Match()))
		left := 0
		for _, c := range match {
			if c.Told() {
				writeItem(out, c.Sentence+".")
				continue
			}
			left++
		}
		if left > 0 {
			writeItem(out, countOf(left, "other quantity is", "other quantities are")+" in the table")
		}
	}
}

// countOf puts a number before the word for one or for several.
func countOf(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// limitsOnce returns the limits of all comparisons, each once.
func limitsOnce(r *compare.Result) []string {
	var limits []string
	for _, c := range r.Comparisons {
		for _, l := range c.Limits {
			if !slices.Contains(limits, l) {
				limits = append(limits, l)
			}
		}
	}
	return limits
}

// comparisonHeads are the columns of a comparison's table.
var comparisonHeads = []string{"", "treatment", "control", "difference", "95 % interval", "p", "verdict", "from measuring"}

// writeTables writes a table for each pair of treatments.
func writeTables(out *strings.Builder, r *compare.Result) {
	for _, match := range r.Matches() {
		fmt.Fprintf(out, "\n%s\n", tame(match[0].Match()))
		rows := [][]string{comparisonHeads}
		for _, c := range match {
			rows = append(rows, []string{c.Quantity, c.MeanWords(), c.ControlWords(), c.EstimateWords(), c.IntervalWords(), pFigure(c),
				string(c.Verdict), percent(c.MeasuringShare)})
		}
		writeAligned(out, rows)
	}
}

// writeVariation writes how much trays treated alike and plugs of one tray vary, which all comparisons of a quantity share.
func writeVariation(out *strings.Builder, r *compare.Result) {
	rows := [][]string{{"", "trays treated alike", "plugs of one tray"}}
	var seen []string
	for _, c := range r.Comparisons {
		if slices.Contains(seen, c.Quantity) || !c.TrayVariation.Known() && !c.PlugVariation.Known() {
			continue
		}
		seen = append(seen, c.Quantity)
		trays := c.VariationWords(c.TrayVariation)
		if trays == "" {
			trays = "unknown"
		}
		rows = append(rows, []string{c.Quantity, trays, c.VariationWords(c.PlugVariation)})
	}
	if len(rows) > 1 {
		fmt.Fprintln(out, "\nNatural variation: coefficient of variation, or standard deviation in the unit")
		writeAligned(out, rows)
	}
}

func percent(n measure.Number) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(float64(n), 'f', 0, 64) + " %"
}

// writeGrowing writes growth against yellowing tray by tray.
func writeGrowing(out *strings.Builder, r *compare.Result) {
	fmt.Fprintln(out, "\nGrowth and colour, against the control on the same day")
	rows := [][]string{{"tray", "", "against", "root area", "leaf area", "yellow", "brown", ""}}
	for _, g := range r.Trays {
		words := string(g.Growing)
		if words == "" {
			words = "not classified: " + g.Why
		}
		rows = append(rows, []string{strconv.Itoa(g.Tray), g.Treatment, g.Control, times(g.RootRatio), times(g.LeafRatio),
			shareWords(g.ChloroticPct, g.ChloroticOff), shareWords(g.BrowningPct, g.BrowningOff), words})
	}
	writeAligned(out, rows)
}

func times(n measure.Number) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(float64(n), 'f', 2, 64) + " ×"
}

// shareWords is a share and how many points it is above the control's.
func shareWords(share, off measure.Number) string {
	if !share.Known() {
		return ""
	}
	s := strconv.FormatFloat(float64(share), 'f', 0, 64) + " %"
	if off.Known() {
		if points := math.Round(float64(off)); points != 0 {
			s += fmt.Sprintf(" (%+.0f)", points)
		}
	}
	return s
}

func daysInWords(days []int) string {
	words := make([]string, len(days))
	for i, d := range days {
		words[i] = strconv.Itoa(d)
	}
	switch len(words) {
	case 0:
		return "no day"
	case 1:
		return "day " + words[0]
	}
	return "days " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// writeAligned writes rows in columns two spaces apart, indented.
func writeAligned(out *strings.Builder, rows [][]string) {
	wide := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(tame(cell)))
		}
	}
	for _, row := range rows {
		line := " "
		for i, cell := range row {
			if wide[i] == 0 {
				continue
			}
			cell = tame(cell)
			line += " " + cell + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)) + " "
		}
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// writeItem writes one item of a list, its lines at most 110 wide.
func writeItem(out *strings.Builder, text string) { writeWrapped(out, "  - ", "    ", text) }

// writeParagraph writes text in lines of at most 110.
func writeParagraph(out *strings.Builder, before, text string) {
	if text != "" {
		out.WriteString(before)
		writeWrapped(out, "", "", text)
	}
}

func writeWrapped(out *strings.Builder, first, others, text string) {
	const most = 110
	line := first
	for _, word := range strings.Fields(tame(text)) {
		if utf8.RuneCountInString(line)+utf8.RuneCountInString(word) > most {
			out.WriteString(strings.TrimRight(line, " ") + "\n")
			line = others
		}
		line += word + " "
	}
	out.WriteString(strings.TrimRight(line, " ") + "\n")
}

// tame replaces what a name might do to a terminal.
func tame(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return '?'
		}
		return r
	}, s)
}
