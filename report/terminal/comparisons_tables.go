package terminal

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// comparisonHeads are the columns of a comparison's table.
var comparisonHeads = []string{"", "treatment", "control", "difference", "95 % interval", "p", "verdict", "from measuring"}

// writeTables writes a table for each pair of treatments.
func writeTables(out *strings.Builder, r *outcome.Result) {
	for _, match := range r.Matches() {
		fmt.Fprintf(out, "\n%s\n", wording.Printable(match[0].Match()))
		rows := [][]string{comparisonHeads}
		for _, c := range match {
			rows = append(rows, []string{c.Quantity, c.MeanWords(), c.ControlWords(), c.EstimateWords(), c.IntervalWords(), pFigure(c),
				c.VerdictWords(), percent(c.MeasuringShare)})
		}
		WriteAligned(out, rows)
	}
}

// writeVariation writes how much trays treated alike and plugs of one tray vary, which all comparisons of a quantity share.
func writeVariation(out *strings.Builder, r *outcome.Result) {
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
		fmt.Fprintln(out, "\nNatural variation (coefficient of variation, or standard deviation in the unit shown)")
		WriteAligned(out, rows)
	}
}

// writeGrowing writes growth against yellowing tray by tray.
func writeGrowing(out *strings.Builder, r *outcome.Result) {
	fmt.Fprintln(out, "\nGrowth and colour compared with the control on the same day (in brackets: percentage points above the control)")
	rows := [][]string{{"tray", "", "against", outcome.RootArea, outcome.LeafArea, "yellow", "brown", ""}}
	for _, g := range r.Trays {
		words := string(g.Growing)
		switch {
		case g.Control == "":
			words = g.Why
		case words == "":
			words = "not classified: " + g.Why
		}
		if gaps := g.Gaps(); gaps != "" {
			words += ", " + gaps
		}
		rows = append(rows, []string{strconv.Itoa(g.Tray), g.Treatment, g.Control, times(g.RootRatio), times(g.LeafRatio),
			shareWords(g.ChloroticPct, g.ChloroticOff), shareWords(g.BrowningPct, g.BrowningOff), words})
	}
	WriteAligned(out, rows)
}

func times(n reading.Number) string {
	if !n.Known() {
		return ""
	}
	decimals := 2
	if n >= 100 {
		decimals = 0
	}
	return strconv.FormatFloat(float64(n), 'f', decimals, 64) + " ×"
}

// shareWords is a share and how many points it is above the control's.
func shareWords(share, off reading.Number) string {
	if !share.Known() {
		return ""
	}
	s := strconv.FormatFloat(float64(share), 'f', 0, 64) + " %"
	if off.Known() {
		if points := math.Round(float64(off)); points != 0 {
			s += strings.Replace(fmt.Sprintf(" (%+.0f)", points), "-", "−", 1)
		}
	}
	return s
}
