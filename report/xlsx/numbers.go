package xlsx

import (
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// shown is a number as the terminal shows it: rounded to the digits that are shown, so that no cell rounds twice, with the
// number format that shows them.
type shown struct {
	value  reading.Number
	format string
}

var nothing = shown{value: reading.Missing}

// toDecimals shows n with that many decimals between two pieces of text.
func toDecimals(n reading.Number, decimals int, before, after string) shown {
	if !n.Known() {
		return nothing
	}
	format := strings.TrimSuffix("0."+strings.Repeat("0", decimals), ".")
	return shown{reading.Number(table.Rounded(n, decimals)), quoted(before) + format + quoted(after)}
}

// quoted makes text of a number format. A sign that means something in a format is marked by itself: not every program leaves it
// alone within quotes.
func quoted(s string) string {
	if s == "" {
		return ""
	}
	return strings.ReplaceAll(strings.NewReplacer("%", `"\%"`, ".", `"\."`).Replace(`"`+s+`"`), `""`, "")
}

// amountDecimals are the decimals of an amount in comparisons: one, none from a hundred on, three for an index.
func amountDecimals(n reading.Number, unit string) int {
	switch {
	case unit == "":
		return 3
	case math.Abs(float64(n)) >= 100:
		return 0
	}
	return 1
}

// meanFigure shows a treatment's mean with its unit.
func meanFigure(n reading.Number, unit string) shown {
	if !n.Known() {
		return nothing
	}
	if strings.HasPrefix(unit, "mm²/") {
		return toDecimals(n, 3, "", "")
	}
	return signFree(toDecimals(n, amountDecimals(n, unit), "", unitAfter(unit)), unitAfter(unit))
}

// estimateFigure shows how much a treatment differs: "× 1.58", or "+12.0 points".
func estimateFigure(c outcome.Comparison) shown {
	if c.Scale == outcome.Ratio {
		return toDecimals(c.Estimate, 2, "× ", "")
	}
	return signedFigure(c.Estimate, c.Unit, unitAfter(differenceUnit(c.Unit)))
}

// differenceUnit is the unit of a difference in a cell: short for shares, since the column's head says that they are percentage points; "" for an index.
func differenceUnit(unit string) string {
	switch unit {
	case "":
		return ""
	case "%":
		return "points"
	}
	return outcome.PointsOf(unit)
}

// endFigure shows one end of an interval, nothing where either end is not known or it spans everything.
func endFigure(c outcome.Comparison, end, other reading.Number) shown {
	switch {
	case !other.Known() || c.SaysNothing():
		return nothing
	case c.Scale == outcome.Ratio:
		return toDecimals(end, 2, "", "")
	}
	return signedFigure(end, c.Unit, "")
}

// unitAfter is a unit as it follows a number.
func unitAfter(unit string) string {
	return strings.TrimPrefix(outcome.WithUnit("0", unit), "0")
}

// signFree shows an amount with the terminal's minus, and 0 without decimals.
func signFree(f shown, after string) shown { return signed(f, "", after) }

// signedFigure shows a difference with its sign.
func signedFigure(n reading.Number, unit, after string) shown {
	return signed(toDecimals(n, amountDecimals(n, unit), "", after), "+", after)
}

// signed gives a figure its sign. A format's part for 0 would do for 0, but not every program heeds it.
func signed(f shown, plus, after string) shown {
	switch {
	case !f.value.Known():
		return f
	case f.value == 0:
		f.format = "0" + quoted(after)
	default:
		f.format = plus + f.format + `;"−"` + f.format
	}
	return f
}

// pFigure shows p, a small one as a bound.
func pFigure(p reading.Number) shown {
	switch {
	case !p.Known():
		return nothing
	case p < 0.001:
		return shown{reading.Number(table.Rounded(p, 5)), quoted("< 0.001")}
	case p >= 0.1:
		return toDecimals(reading.Number(math.Min(1, float64(p))), 2, "", "")
	}
	return toDecimals(p, 3, "", "")
}

// styleFor returns the style of a number in that format.
func (b *workbook) styleFor(format string) (int, error) {
	if id, made := b.formats[format]; made {
		return id, nil
	}
	id, err := b.file.NewStyle(&excelize.Style{CustomNumFmt: &format, Alignment: &excelize.Alignment{Horizontal: "right", Vertical: "center"}})
	if err == nil {
		b.formats[format] = id
	}
	return id, err
}
