package report

import (
	"io"
	"strconv"
	"strings"

	"traygauge/measure"
	"traygauge/measure/compare"
)

// WriteComparisonsCSV writes comparisons.csv: one row a comparison, by day.
func WriteComparisonsCSV(w io.Writer, r *compare.Result) error {
	return writeCSV(w, comparisonColumns, r.Comparisons)
}

// Figures of comparisons are kept to four decimals: a ratio's interval is known to two at best.
const comparisonDecimals = 4

// onScale returns get's figure where the comparison is made on that scale, and nothing otherwise.
func onScale(scale compare.Scale, get func(compare.Comparison) measure.Number) func(compare.Comparison) measure.Number {
	return func(c compare.Comparison) measure.Number {
		if c.Scale != scale {
			return measure.Missing
		}
		return get(c)
	}
}

func estimate(c compare.Comparison) measure.Number { return c.Estimate }
func lower(c compare.Comparison) measure.Number    { return c.Lower }
func upper(c compare.Comparison) measure.Number    { return c.Upper }

// variationUnit is what the three variations of a comparison are given in.
func variationUnit(c compare.Comparison) string {
	if c.Scale == compare.Ratio {
		return "% CV"
	}
	return strings.TrimSpace(differenceUnit(c) + " SD")
}

// differenceUnit is the unit of a difference, "" on the ratio scale.
func differenceUnit(c compare.Comparison) string {
	if c.Scale == compare.Ratio {
		return ""
	}
	return compare.PointsOf(c.Unit)
}

// comparisonColumns are the columns of comparisons.csv.
var comparisonColumns = []column[compare.Comparison]{
	{name: "day", title: "day (since sowing)", width: 8, number: func(c compare.Comparison) measure.Number { return count(c.Day) }},
	{name: "growth_since_day", title: "growth since day (since sowing)", width: 8, number: func(c compare.Comparison) measure.Number {
		if c.FromDay == nil {
			return measure.Missing
		}
		return count(*c.FromDay)
	}},
	{name: "quantity", title: "quantity", width: 26, text: func(c compare.Comparison) string { return c.Quantity }},
	{name: "unit", title: "unit", width: 11, text: func(c compare.Comparison) string { return c.Unit }},
	{name: "kind", title: "kind", width: 10, text: func(c compare.Comparison) string { return string(c.Kind) }},
	{name: "treatment", title: "treatment", width: 25, text: func(c compare.Comparison) string { return c.Treatment }},
	{name: "control", title: "control", width: 25, text: func(c compare.Comparison) string { return c.Control }},
	{name: "combination_of", title: "combination of", width: 25, text: func(c compare.Comparison) string { return strings.Join(c.Parts, "; ") }},
	{name: "treatment_mean", title: "treatment, mean (in its unit)", width: 12, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.Mean }},
	{name: "control_mean", title: "control, mean (in its unit)", width: 12, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.ControlMean }},
	{name: "ratio", title: "ratio (×)", width: 9, decimals: comparisonDecimals, number: onScale(compare.Ratio, estimate)},
	{name: "ratio_lower_95", title: "ratio, 95 % from (×)", width: 10, decimals: comparisonDecimals, number: onScale(compare.Ratio, lower)},
	{name: "ratio_upper_95", title: "ratio, 95 % to (×)", width: 10, decimals: comparisonDecimals, number: onScale(compare.Ratio, upper)},
	{name: "difference", title: "difference (in its unit)", width: 12, decimals: comparisonDecimals, number: onScale(compare.Difference, estimate)},
	{name: "difference_lower_95", title: "difference, 95 % from (in its unit)", width: 12, decimals: comparisonDecimals, number: onScale(compare.Difference, lower)},
	{name: "difference_upper_95", title: "difference, 95 % to (in its unit)", width: 12, decimals: comparisonDecimals, number: onScale(compare.Difference, upper)},
	{name: "difference_unit", title: "unit of the difference", width: 15, text: differenceUnit},
	{name: "p_adjusted", title: "p, adjusted (0 to 1)", width: 10, decimals: 5, number: func(c compare.Comparison) measure.Number { return c.P }},
	{name: "p_unadjusted", title: "p, unadjusted (0 to 1)", width: 10, decimals: 5, number: func(c compare.Comparison) measure.Number { return c.PSingle }},
	{name: "adjusted_for_n", title: "adjusted for (n)", width: 10, number: func(c compare.Comparison) measure.Number {
		if c.Together == 0 {
			return measure.Missing
		}
		return count(c.Together)
	}},
	{name: "role", title: "role", width: 12, text: func(c compare.Comparison) string { return string(c.Role) }},
	{name: "p_exploratory", title: "p, adjusted with all exploratory ones (0 to 1)", width: 12, decimals: 5, number: func(c compare.Comparison) measure.Number { return c.PExploratory }},
	{name: "exploratory_n", title: "exploratory comparisons (n)", width: 12, number: func(c compare.Comparison) measure.Number {
		if c.ExploratoryN == 0 {
			return measure.Missing
		}
		return count(c.ExploratoryN)
	}},
	{name: "worth_having", title: "smallest difference worth having (as ratio or in its unit)", width: 14, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.WorthHaving }},
	{name: "trays_needed_n", title: "trays a treatment to show it (n)", width: 12, number: func(c compare.Comparison) measure.Number { return c.TraysNeeded }},
	{name: "test", title: "test", width: 15, text: func(c compare.Comparison) string { return c.Test }},
	{name: "df", title: "degrees of freedom", width: 10, decimals: 2, number: func(c compare.Comparison) measure.Number { return c.DF }},
	{name: "compared_by", title: "compared by", width: 15, text: func(c compare.Comparison) string { return string(c.Inference) }},
	{name: "verdict", title: "verdict", width: 15, text: func(c compare.Comparison) string { return string(c.Verdict) }},
	{name: "treatment_trays", title: "treatment, trays (numbers)", width: 12, text: func(c compare.Comparison) string { return numbers(c.TrayNumbers) }},
	{name: "control_trays", title: "control, trays (numbers)", width: 12, text: func(c compare.Comparison) string { return numbers(c.ControlTrays) }},
	{name: "treatment_plugs", title: "treatment, plugs (n)", width: 11, number: func(c compare.Comparison) measure.Number { return count(c.PlugsN) }},
	{name: "control_plugs", title: "control, plugs (n)", width: 9, number: func(c compare.Comparison) measure.Number { return count(c.ControlPlugs) }},
	{name: "tray_variation", title: "tray-to-tray variation (in its unit)", width: 12, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.TrayVariation }},
	{name: "plug_variation", title: "variation between plugs of a tray (in its unit)", width: 12, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.PlugVariation }},
	{name: "variation_needed_to_explain", title: "tray-to-tray variation needed to explain it (in its unit)", width: 14, decimals: comparisonDecimals, number: func(c compare.Comparison) measure.Number { return c.ExplainedBy }},
	{name: "variation_unit", title: "unit of the variations", width: 15, text: variationUnit},
	{name: "measuring_share_pct", title: "share from measuring, of the interval's squared width (%)", width: 14, decimals: 1, number: func(c compare.Comparison) measure.Number { return c.MeasuringShare }},
	{name: "sentence", title: "in words", width: 110, text: func(c compare.Comparison) string { return c.Sentence }},
	{name: "limits", title: "limits", width: 110, text: func(c compare.Comparison) string { return strings.Join(c.Limits, "; ") }},
}

// numbers lists tray numbers in one cell.
func numbers(ns []int) string {
	words := make([]string, len(ns))
	for i, n := range ns {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, " ")
}

// ComparisonRecords returns the rows of comparisons.csv by column name, for JSON.
func ComparisonRecords(r *compare.Result) []map[string]any {
	return recordsOf(comparisonColumns, r.Comparisons)
}
