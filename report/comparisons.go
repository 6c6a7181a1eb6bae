package report

import (
	"io"
	"strconv"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// WriteComparisonsCSV writes comparisons.csv: one row a comparison, by day.
func WriteComparisonsCSV(w io.Writer, r *outcome.Result) error {
	return writeCSV(w, ComparisonColumns, r.Comparisons)
}

// onScale returns get's figure where the comparison is made on that scale, and nothing otherwise.
func onScale(scale outcome.Scale, get func(outcome.Comparison) reading.Number) func(outcome.Comparison) reading.Number {
	return func(c outcome.Comparison) reading.Number {
		if c.Scale != scale {
			return reading.Missing
		}
		return get(c)
	}
}

func estimate(c outcome.Comparison) reading.Number { return c.Estimate }
func lower(c outcome.Comparison) reading.Number    { return c.Lower }
func upper(c outcome.Comparison) reading.Number    { return c.Upper }

// variationUnit is what the three variations of a comparison are given in.
func variationUnit(c outcome.Comparison) string {
	if c.Scale == outcome.Ratio {
		return "% CV"
	}
	return strings.TrimSpace(DifferenceUnit(c) + " SD")
}

// DifferenceUnit is the unit of a difference, "" on the ratio scale.
func DifferenceUnit(c outcome.Comparison) string {
	if c.Scale == outcome.Ratio {
		return ""
	}
	return outcome.PointsOf(c.Unit)
}

// ComparisonColumns are the columns of comparisons.csv.
var ComparisonColumns = []table.Column[outcome.Comparison]{
	{Name: "day", Title: "day (since sowing)", Width: 8, Number: func(c outcome.Comparison) reading.Number { return table.Count(c.Day) }},
	{Name: "growth_since_day", Title: "growth since day (since sowing)", Width: 8, Number: func(c outcome.Comparison) reading.Number {
		if c.FromDay == nil {
			return reading.Missing
		}
		return table.Count(*c.FromDay)
	}},
	{Name: "quantity", Title: "quantity", Width: 26, Text: func(c outcome.Comparison) string { return c.Quantity }},
	{Name: "unit", Title: "unit", Width: 11, Text: func(c outcome.Comparison) string { return c.Unit }},
	{Name: "kind", Title: "kind", Width: 10, Text: func(c outcome.Comparison) string { return string(c.Kind) }},
	{Name: "treatment", Title: "treatment", Width: 25, Text: func(c outcome.Comparison) string { return c.Treatment }},
	{Name: "control", Title: "control", Width: 25, Text: func(c outcome.Comparison) string { return c.Control }},
	{Name: "combination_of", Title: "combination of", Width: 25, Text: func(c outcome.Comparison) string { return strings.Join(c.Parts, "; ") }},
	{Name: "treatment_mean", Title: "treatment, mean (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.Mean }},
	{Name: "control_mean", Title: "control, mean (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.ControlMean }},
	{Name: "ratio", Title: "ratio (×)", Width: 9, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Ratio, estimate)},
	{Name: "ratio_lower_95", Title: "ratio, 95 % from (×)", Width: 10, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Ratio, lower)},
	{Name: "ratio_upper_95", Title: "ratio, 95 % to (×)", Width: 10, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Ratio, upper)},
	{Name: "difference", Title: "difference (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Difference, estimate)},
	{Name: "difference_lower_95", Title: "difference, 95 % from (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Difference, lower)},
	{Name: "difference_upper_95", Title: "difference, 95 % to (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: onScale(outcome.Difference, upper)},
	{Name: "difference_unit", Title: "unit of the difference", Width: 15, Text: DifferenceUnit},
	{Name: "p_adjusted", Title: "p, adjusted (0 to 1)", Width: 10, Decimals: 5, Number: func(c outcome.Comparison) reading.Number { return c.P }},
	{Name: "p_unadjusted", Title: "p, unadjusted (0 to 1)", Width: 10, Decimals: 5, Number: func(c outcome.Comparison) reading.Number { return c.PSingle }},
	{Name: "adjusted_for_n", Title: "adjusted for (n)", Width: 10, Number: func(c outcome.Comparison) reading.Number {
		if c.Together == 0 {
			return reading.Missing
		}
		return table.Count(c.Together)
	}},
	{Name: "role", Title: "role", Width: 12, Text: func(c outcome.Comparison) string { return string(c.Role) }},
	{Name: "p_exploratory", Title: "p, adjusted with all exploratory ones (0 to 1)", Width: 12, Decimals: 5, Number: func(c outcome.Comparison) reading.Number { return c.PExploratory }},
	{Name: "exploratory_n", Title: "exploratory comparisons (n)", Width: 12, Number: func(c outcome.Comparison) reading.Number {
		if c.ExploratoryN == 0 {
			return reading.Missing
		}
		return table.Count(c.ExploratoryN)
	}},
	{Name: "worth_having", Title: "smallest difference worth having (as ratio or in its unit)", Width: 14, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.WorthHaving }},
	{Name: "trays_needed_n", Title: "trays per treatment to show it (n)", Width: 12, Number: func(c outcome.Comparison) reading.Number { return c.TraysNeeded }},
	{Name: "test", Title: "test", Width: 15, Text: func(c outcome.Comparison) string { return c.Test }},
	{Name: "df", Title: "degrees of freedom", Width: 10, Decimals: 2, Number: func(c outcome.Comparison) reading.Number { return c.DF }},
	{Name: "compared_by", Title: "compared by", Width: 15, Text: func(c outcome.Comparison) string { return string(c.Inference) }},
	{Name: "verdict", Title: "verdict", Width: 15, Text: func(c outcome.Comparison) string { return string(c.Verdict) }},
	{Name: "treatment_trays", Title: "treatment, trays (numbers)", Width: 12, Text: func(c outcome.Comparison) string { return TrayList(c.TrayNumbers) }},
	{Name: "control_trays", Title: "control, trays (numbers)", Width: 12, Text: func(c outcome.Comparison) string { return TrayList(c.ControlTrays) }},
	{Name: "treatment_plugs", Title: "treatment, plugs (n)", Width: 11, Number: func(c outcome.Comparison) reading.Number { return table.Count(c.PlugsN) }},
	{Name: "control_plugs", Title: "control, plugs (n)", Width: 9, Number: func(c outcome.Comparison) reading.Number { return table.Count(c.ControlPlugs) }},
	{Name: "tray_variation", Title: "tray-to-tray variation (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.TrayVariation }},
	{Name: "plug_variation", Title: "variation between plugs of a tray (in its unit)", Width: 12, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.PlugVariation }},
	{Name: "variation_needed_to_explain", Title: "tray-to-tray variation needed to explain it (in its unit)", Width: 14, Decimals: table.ComparisonDecimals, Number: func(c outcome.Comparison) reading.Number { return c.ExplainedBy }},
	{Name: "variation_unit", Title: "unit of the variations", Width: 15, Text: variationUnit},
	{Name: "measuring_share_pct", Title: "share from measuring, of the interval’s squared width (%)", Width: 14, Decimals: 1, Number: func(c outcome.Comparison) reading.Number { return c.MeasuringShare }},
	{Name: "sentence", Title: "in words", Width: 110, Text: func(c outcome.Comparison) string { return c.Sentence }},
	{Name: "limits", Title: "limits", Width: 110, Text: func(c outcome.Comparison) string { return strings.Join(c.Limits, "; ") }},
}

// TrayList lists tray numbers in one cell.
func TrayList(ns []int) string {
	words := make([]string, len(ns))
	for i, n := range ns {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, " ")
}

// ComparisonRecords returns the rows of comparisons.csv by column name, for JSON.
func ComparisonRecords(r *outcome.Result) []map[string]any {
	return recordsOf(ComparisonColumns, r.Comparisons)
}
