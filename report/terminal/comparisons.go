package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/wording"
	"traygauge/report"
)

// Compared is what is printed of comparisons as JSON. Its rows have the names of the columns of comparisons.csv.
type Compared struct {
	Title       string               `json:"title"`
	Days        []int                `json:"days"`
	LastDay     int                  `json:"last_day"`
	Answer      outcome.Answer       `json:"answer"`
	Comparisons []map[string]any     `json:"comparisons"`
	Doses       []outcome.DoseTrend  `json:"doses"`
	Places      []outcome.Place      `json:"places"`
	Outliers    []outcome.Outlier    `json:"outliers"`
	Outlying    []outcome.Outlying   `json:"outlying_trays"`
	Without     []outcome.Without    `json:"without"`
	Trays       []outcome.TrayGrowth `json:"growth_and_colour"`
	Limits      []string             `json:"limits"`
}

// ComparedOf gathers what is printed of r as JSON. Lists are never null.
func ComparedOf(r *outcome.Result) Compared {
	return Compared{r.Title, r.Days, r.LastDay, r.Answer, report.ComparisonRecords(r), append([]outcome.DoseTrend{}, r.Doses...), append([]outcome.Place{}, r.Places...), append([]outcome.Outlier{}, r.Outliers...),
		append([]outcome.Outlying{}, r.Outlying...), append([]outcome.Without{}, r.Without...), r.Trays, r.Limits}
}

// writeAnswer writes the answer to the main question, a line a treatment and control.
func writeAnswer(out *strings.Builder, r *outcome.Result) {
	writeParagraph(out, "", r.Answer.Short)
	for _, l := range r.Answer.Lines {
		between := ", " // a figure follows, or the reason
		if l.Verdict == outcome.NotCompared {
			between = ": "
		}
		said := fmt.Sprintf("%s against %s: %s%s%s", l.Treatment, l.Control, l.Verdict, between, l.Words)
		if l.Takes != "" {
			said += "; " + l.Takes
		}
		WriteItem(out, said+".")
	}
	for _, w := range r.Without {
		WriteItem(out, w.Words+".")
	}
	writeParagraph(out, "", r.Answer.Note)
	for _, d := range r.Doses {
		WriteItem(out, d.Words+".")
	}
}

// WriteComparisons writes one day's comparisons for people: the answer and one table, and the rest where all is asked for.
func WriteComparisons(w io.Writer, p *plan.Plan, r *outcome.Result, day int, all bool) error {
	var out strings.Builder
	if len(r.Days) == 0 {
		fmt.Fprintln(&out, strings.Join(r.Limits, "\n"))
		_, err := io.WriteString(w, out.String())
		return err
	}
	fmt.Fprintf(&out, "%s: day %d (%s)\n\n", wording.Printable(r.Title), day, p.DateOf(day).Format("2006-01-02"))
	writeAnswer(&out, r)
	today := r.On(day)
	if !all {
		writeTold(&out, today)
		if len(today.MustKnow) > 0 {
			out.WriteString("\n")
		}
		for _, l := range today.MustKnow {
			WriteItem(&out, upperFirst(l)+".")
		}
		rest := "--all shows all quantities, growth, colour and limitations"
		if len(r.Days) > 1 {
			rest += fmt.Sprintf(". --day shows another day: there are photos of %s", wording.Days(r.Days))
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
		fmt.Fprintln(&out, "\nPlugs that stand out (all still count). Look at them, and exclude a plug only for a reason")
	}
	for _, o := range r.Outliers {
		WriteItem(&out, o.Words+".")
	}
	if len(r.Places) > 0 {
		fmt.Fprintln(&out, "\nPosition on the bench and in the tray")
	}
	for _, place := range r.Places {
		WriteItem(&out, place.Words+".")
	}
	fmt.Fprintln(&out, "\nLimitations")
	for _, l := range limitsOnce(today) {
		WriteItem(&out, upperFirst(l)+".")
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// writeTold writes one table: the sizes, and what else is clear, of each treatment and control.
func writeTold(out *strings.Builder, r *outcome.Result) {
	rows := [][]string{{"treatment", "against", "quantity", "difference", "95 % interval", "p", "verdict"}}
	for _, match := range r.Matches() {
		for _, c := range match {
			if !c.Told() || c.Quantity == outcome.Stand && c.Verdict != outcome.More && c.Verdict != outcome.Less {
				continue
			}
			against := c.Control
			if c.Kind == outcome.Interaction {
				against = wording.List(c.Parts) + " together"
			}
			rows = append(rows, []string{c.Treatment, against, c.Quantity, c.EstimateWords(), c.IntervalWords(), pFigure(c), c.VerdictWords()})
		}
	}
	if len(rows) > 1 {
		out.WriteString("\n")
		WriteAligned(out, rows)
	}
}

func pFigure(c outcome.Comparison) string {
	return strings.TrimPrefix(strings.TrimPrefix(outcome.PWords(c.P), "p = "), "p ")
}

// writeWords writes the sentences that matter for each pair of treatments.
func writeWords(out *strings.Builder, r *outcome.Result) {
	for _, match := range r.Matches() {
		fmt.Fprintf(out, "\n%s\n", wording.Printable(match[0].Match()))
		left := 0
		for _, c := range match {
			if c.Told() {
				WriteItem(out, c.Sentence+".")
				continue
			}
			left++
		}
		if left > 0 {
			WriteItem(out, wording.Counted(left, "other quantity is", "other quantities are")+" in the table")
		}
	}
}

// limitsOnce returns the limits of all comparisons and of the trial, each once.
func limitsOnce(r *outcome.Result) []string {
	var limits []string
	for _, c := range r.Comparisons {
		for _, l := range c.Limits {
			if !slices.Contains(limits, l) {
				limits = append(limits, l)
			}
		}
	}
	for _, l := range r.Limits {
		if !slices.Contains(limits, l) {
			limits = append(limits, l)
		}
	}
	return limits
}
