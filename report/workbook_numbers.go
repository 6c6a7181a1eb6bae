package report

import (
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"traygauge/measure"
	"traygauge/measure/compare"
)

// shown is a number as the terminal shows it: rounded to the digits that are shown, so that no cell rounds twice, with the
// number format that shows them.
type shown struct {
	value  measure.Number
	format string
}

var nothing = shown{value: measure.Missing}

// toDecimals shows n with that many decimals between two pieces of text.
func toDecimals(n measure.Number, decimals int, before, after string) shown {
	if !n.Known() {
		return nothing
	}
	format := strings.TrimSuffix("0."+strings.Repeat("0", decimals), ".")
	return shown{measure.Number(rounded(n, decimals)), quoted(before) + format + quoted(after)}
}

// quoted makes text of a number format.
func quoted(s string) string {
	if s == "" {
		return ""
	}
	return `"` + s + `"`
}

// amountDecimals are the decimals of an amount in comparisons: one, none from a hundred on, three for an index.
func amountDecimals(n measure.Number, unit string) int {
	switch {
	case unit == "" || strings.HasPrefix(unit, "mm²/"):
		return 3
	case math.Abs(float64(n)) >= 100:
		return 0
	}
	return 1
}

// meanFigure shows a treatment's mean with its unit.
func meanFigure(n measure.Number, unit string) shown {
	if !n.Known() {
		return nothing
	}
	after := " " + unit
	if unit == "" || strings.HasPrefix(unit, "mm²/") {
		after = ""
	}
	f := toDecimals(n, amountDecimals(n, unit), "", after)
	if f.value == 0 && unit != "" {
		f.format = "0" + quoted(after)
	}
	return f
}

// estimateFigure shows how much a treatment differs: "× 1.58", or "+12.0 points".
func estimateFigure(c compare.Comparison) shown {
	if c.Scale == compare.Ratio {
		return toDecimals(c.Estimate, 2, "× ", "")
	}
	points := strings.Replace(strings.Replace(c.Unit, "% a day", "points a day", 1), "%", "points", 1)
	if points != "" {
		points = " " + points
	}
	return signedFigure(c.Estimate, c.Unit, points)
}

// endFigure shows one end of an interval, nothing where either end is not known.
func endFigure(c compare.Comparison, end, other measure.Number) shown {
	switch {
	case !other.Known():
		return nothing
	case c.Scale == compare.Ratio:
		return toDecimals(end, 2, "", "")
	}
	return signedFigure(end, c.Unit, "")
}

// signedFigure shows a difference with its sign.
func signedFigure(n measure.Number, unit, after string) shown {
	f := toDecimals(n, amountDecimals(n, unit), "", after)
	if f.value.Known() {
		f.format = "+" + f.format + `;"−"` + f.format + ";0" + quoted(after)
	}
	return f
}

// pFigure shows p, a small one as a bound.
func pFigure(p measure.Number) shown {
	switch {
	case !p.Known():
		return nothing
	case p < 0.001:
		return shown{measure.Number(rounded(p, 5)), `"< 0.001"`}
	case p >= 0.1:
		return toDecimals(measure.Number(math.Min(1, float64(p))), 2, "", "")
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
