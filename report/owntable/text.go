// Package owntable writes comparisons of users' own tables as text for a terminal, and as JSON with full precision.
//
//	in    a comparison as measure/stats/table makes it
//	out   text in lines of at most 110; JSON in which numbers that are not finite are null
//
// It must not depend on trials, photos or flags, or on how a test is chosen.
package owntable

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/stats"
	"traygauge/measure/stats/table"
	"traygauge/measure/wording"
	"traygauge/report/terminal"
)

// mostSentences is how many comparisons are put into a sentence each; the table shows them all.
const mostSentences = 12

// printed is a comparison while it is put into words.
type printed struct{ *table.Comparison }

// Write writes the comparison for people.
func Write(w io.Writer, c *table.Comparison) error {
	r := printed{c}
	var out strings.Builder
	against := "every pair"
	if r.Control != "" {
		against = "each against " + r.Control
	}
	fmt.Fprintf(&out, "%s by %s: %s in %s, %s\n", wording.Printable(r.Table.Value), wording.Printable(r.Table.By), wording.Counted(r.Table.Values, "value", "values"), wording.Counted(len(r.Groups), "group", "groups"), wording.Printable(against))
	for _, n := range r.Notes {
		terminal.WriteItem(&out, n)
	}
	r.writeGroups(&out)
	if r.Possible {
		r.writeChoice(&out)
		r.writeEffects(&out)
		r.writeSentences(&out)
	} else {
		fmt.Fprintln(&out, "\nNo conclusion")
		terminal.WriteItem(&out, r.Why+".")
		r.writeBetween(&out)
	}
	writeInteraction(&out, r.Interaction, r.Level)
	r.writeVariances(&out)
	_, err := io.WriteString(w, out.String())
	return err
}

func (r printed) writeGroups(out *strings.Builder) {
	head := "\nGroups"
	if r.Unit != "" {
		head += ", by unit means"
	}
	fmt.Fprintln(out, head)
	rows := [][]string{{"", "n", "mean", "SD", "CV %", "median", "smallest", "largest"}}
	for _, g := range r.Groups {
		rows = append(rows, []string{g.Group, strconv.Itoa(g.N), table.Figure(g.Mean), table.Figure(g.SD), table.Figure(g.CVPct), table.Figure(g.Median), table.Figure(g.Min), table.Figure(g.Max)})
	}
	terminal.WriteAligned(out, rows)
}

func (r printed) writeChoice(out *strings.Builder) {
	fmt.Fprintln(out, "\nHow the test was chosen")
	for _, s := range r.Steps {
		terminal.WriteItem(out, s+".")
	}
	terminal.WriteItem(out, "test: "+r.Comparisons.Method+".")
	o := r.Overall
	switch {
	case o.Test == "none":
	case math.IsNaN(o.DF2):
		terminal.WriteItem(out, fmt.Sprintf("all groups together: %s χ² = %s on %s degrees of freedom, p %s.", o.Test, table.Figure(o.Statistic), freedom(o.DF1), equals(o.P)))
	default:
		terminal.WriteItem(out, fmt.Sprintf("all groups together: %s F = %s on %s and %s degrees of freedom, p %s.", o.Test, table.Figure(o.Statistic), freedom(o.DF1), freedom(o.DF2), equals(o.P)))
	}
}

// equals writes p as "= 0.012" or "< 0.0001".
func equals(p float64) string {
	text := stats.PText(p)
	if strings.HasPrefix(text, "<") {
		return text
	}
	return "= " + text
}

// level is the intervals' confidence, such as "95 %".
func (r printed) level() string { return strconv.FormatFloat(100*r.Level, 'g', 4, 64) + " %" }

func (r printed) writeEffects(out *strings.Builder) {
	fmt.Fprintln(out, "\nComparisons")
	ratio, difference := []string{"ratio", r.level() + " interval"}, []string{"difference", r.level() + " interval"}
	rows := [][]string{append(append([]string{""}, ratio...), "adjusted p")}
	if r.Scale == stats.RawScale {
		rows = [][]string{append(append(append([]string{""}, difference...), ratio...), "adjusted p")}
	}
	for _, e := range r.Effects {
		ratio, difference = estimated(e.Ratio, e.RatioLower, e.RatioUpper, 1), estimated(e.Difference, e.DifferenceLower, e.DifferenceUpper, 0)
		row := append([]string{e.A + " / " + e.B}, ratio...)
		if r.Scale == stats.RawScale {
			row = append(append([]string{e.A + " − " + e.B}, difference...), ratio...)
		}
		rows = append(rows, append(row, stats.PText(e.PAdj)))
	}
	terminal.WriteAligned(out, rows)
}

// estimated writes an estimate and its interval with as many decimals as show two digits of the interval's narrower half, doubled. An end is
// never rounded onto none, what no difference would be, so that the interval does not seem to reach it. A ratio's interval from below a tenth
// to above ten times is not shown: it spans everything.
func estimated(v, lower, upper, none float64) []string {
	width := 2 * min(v-lower, upper-v)
	switch {
	case math.IsNaN(width):
		return []string{table.Short(v), ""}
	case none == 1 && outcome.RatioSaysNothing(lower, upper):
		return []string{table.Short(v), "too wide"}
	case math.IsInf(width, 0):
		return []string{table.Short(v), "no bounds"}
	}
	decimals := 1
	if width > 0 {
		decimals = min(12, max(0, 1-int(math.Floor(math.Log10(width)))))
	}
	fixed := func(v float64) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, end := range []float64{lower, upper} {
		for end != none && decimals < 12 && strings.TrimLeft(fixed(end), "-") == fixed(none) {
			decimals++
		}
	}
	shown := func(v float64) string { return strings.Replace(fixed(v), "-", "−", 1) }
	return []string{shown(v), shown(lower) + " to " + shown(upper)}
}

func (r printed) writeSentences(out *strings.Builder) {
	fmt.Fprintln(out, "\nConclusions")
	clear, doubtful := 0, 0
	for _, e := range r.Effects {
		sure := e.PAdj < 1-r.Level
		if sure {
			clear++
		} else {
			doubtful++
		}
		if sure && clear <= 3*mostSentences || !sure && len(r.Effects) <= mostSentences {
			terminal.WriteItem(out, r.sentence(e, sure))
		}
	}
	if len(r.Effects) > mostSentences {
		terminal.WriteItem(out, fmt.Sprintf("of %d comparisons, %s clear and %s unclear.", len(r.Effects), wording.Counted(clear, "is", "are"), wording.Counted(doubtful, "is", "are")))
	}
	if most := r.detectable(); doubtful > 0 && !math.IsNaN(most) {
		size := "a difference of " + table.Short(most)
		if r.Scale == stats.LogScale {
			size = fmt.Sprintf("a ratio of %s (or %s)", table.Short(most), table.Short(1/most))
		}
		terminal.WriteItem(out, fmt.Sprintf("a repeat with as many values and the same variation would detect %s with %v %% power in each comparison.", size, 100*stats.DetectablePower))
	}
	if doubtful > 0 {
		terminal.WriteItem(out, "\"unclear\" does not mean \"equal\": the values fit any difference within the interval.")
	}
}

// detectable is what even the least sure comparison would show.
func (r printed) detectable() float64 {
	most := math.NaN()
	for _, e := range r.Effects {
		if math.IsNaN(most) || e.Detectable > most {
			most = e.Detectable
		}
	}
	return most
}

// sentence says one comparison in words.
func (r printed) sentence(e stats.Effect, sure bool) string {
	words, way := estimated(e.Ratio, e.RatioLower, e.RatioUpper, 1), e.Ratio > 1
	size, span := words[0]+" times", words[1]
	if r.Scale == stats.RawScale {
		words, way = estimated(e.Difference, e.DifferenceLower, e.DifferenceUpper, 0), e.Difference > 0
		size, span = "a difference of "+words[0], words[1]
	}
	if span == "no bounds" {
		span = "without bounds"
	}
	if !sure {
		return fmt.Sprintf("%s against %s is unclear: %s, %s interval %s, adjusted p %s.", e.A, e.B, size, r.level(), span, equals(e.PAdj))
	}
	than := "smaller"
	if way {
		than = "larger"
	}
	return fmt.Sprintf("%s is %s than %s: %s, %s interval %s, adjusted p %s.", e.A, than, e.B, size, r.level(), span, equals(e.PAdj))
}

// writeBetween compares single units, and says what would explain their differences away.
func (r printed) writeBetween(out *strings.Builder) {
	if len(r.Between) == 0 {
		return
	}
	fmt.Fprintf(out, "\nFor these units, not for their groups\n")
	rows := [][]string{{"", "ratio", r.level() + " interval", "difference", r.level() + " interval", "explained by a variation between units of"}}
	for _, p := range r.Between {
		explained := "SD " + table.Short(p.ExplainSD)
		if !math.IsNaN(p.ExplainCVPct) {
			explained = "CV " + table.Short(p.ExplainCVPct) + " %"
		}
		if p.ExplainSD == 0 {
			explained = "the variation within units"
		}
		row := append([]string{p.A + " / " + p.B}, estimated(p.Ratio.Ratio, p.Ratio.Lower, p.Ratio.Upper, 1)...)
		row = append(row, estimated(p.Difference, p.Lower, p.Upper, 0)...)
		rows = append(rows, append(row, explained))
	}
	terminal.WriteAligned(out, rows)
	terminal.WriteItem(out, "If units treated alike vary as much as shown in the last column, chance alone makes two of them differ by at least this much in 1 of 20 cases.")
}

// writeVariances writes how much units treated alike and values of one unit vary.
func (r printed) writeVariances(out *strings.Builder) {
	n := r.Nested
	if n == nil || math.IsNaN(n.Components.Within) && math.IsNaN(n.Components.Unit) {
		return
	}
	fmt.Fprintln(out, "\nNatural variation")
	if c := n.Components; !math.IsNaN(c.Within) {
		terminal.WriteItem(out, fmt.Sprintf("between values of one unit: SD %s.", table.Figure(math.Sqrt(c.Within))))
		if !math.IsNaN(c.Unit) {
			terminal.WriteItem(out, fmt.Sprintf("between units treated alike, in addition: SD %s (%s %% of the variance of a value).", table.Figure(math.Sqrt(c.Unit)), table.Figure(100*c.ICC)))
		}
	}
	if t := n.GroupTest; !math.IsNaN(t.P) {
		exact := "exact, because all units have the same number of values"
		if !n.Exact {
			exact = fmt.Sprintf("approximate, because units have different numbers of values; with the synthesised denominator F = %s on %s and %s, p %s", table.Figure(n.Synthesised.F), freedom(n.Synthesised.DF1), freedom(n.Synthesised.DF2), equals(n.Synthesised.P))
		}
		terminal.WriteItem(out, fmt.Sprintf("groups against units, on the values’ own scale: F = %s on %s and %s degrees of freedom, p %s; %s.", table.Figure(t.F), freedom(t.DF1), freedom(t.DF2), equals(t.P), exact))
	}
}

// freedom writes degrees of freedom: whole ones as such.
func freedom(df float64) string {
	if df == math.Trunc(df) {
		return strconv.FormatFloat(df, 'f', 0, 64)
	}
	return table.Figure(df)
}

// writeInteraction says it in words, on the log scale where there is one.
func writeInteraction(out *strings.Builder, x *table.Interaction, level float64) {
	if x == nil {
		return
	}
	one, other, both := x.Groups[1], x.Groups[2], x.Groups[3]
	fmt.Fprintln(out, "\nThe combination and its parts")
	c, size, none := x.Raw, "%s gives %s more than %s and %s combined", 0.0
	show := func(v float64) float64 { return v }
	if x.Log != nil {
		c, size, none, show = x.Log, "%s gives %s times as much as %s and %s combined", 1, math.Exp
	}
	if c == nil {
		terminal.WriteItem(out, "no result, because the values do not vary.")
		return
	}
	words := estimated(show(c.Estimate), show(c.Lower), show(c.Upper), none)
	so := "unclear whether there is an interaction"
	switch {
	case c.P < 1-level && c.Estimate > 0:
		so = "more than the parts"
	case c.P < 1-level:
		so = "less than the parts"
	}
	terminal.WriteItem(out, fmt.Sprintf(size+": %.4g %% interval %s by itself, p %s; %s.", both, words[0], one, other, 100*level, words[1], equals(c.P), so))
}
