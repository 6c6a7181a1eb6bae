// Package table defines the columns of tables and the format of their numbers, for all kinds of output.
//
//	in    a row and a number as measured
//	out   the cell, as text for CSV and JSON or rounded for a workbook, so that all agree to the last digit
//
// It must not depend on which tables exist, what a row is or where a cell goes. A missing number is blank, never 0.
package table

import (
	"math"
	"strconv"
	"traygauge/measure/reading"
)

// Column is one column of a table in whatever form it is printed. Exactly one of Number and Text is set.
type Column[Row any] struct {
	Name     string // in CSV and JSON
	Title    string // in the workbook, with the unit
	Width    float64
	Decimals int // of a number, in CSV and JSON and in a workbook's cell
	Shown    int // one more than the decimals for people, 0 where they are the same
	Number   func(Row) reading.Number
	Text     func(Row) string
}

// Show returns the cell as text, blank for a number that is missing.
func (c Column[Row]) Show(r Row) string {
	if c.Text != nil {
		return c.Text(r)
	}
	return Digits(c.Number(r), c.Decimals)
}

// ShownDecimals are the decimals of a number for people.
func (c Column[Row]) ShownDecimals() int {
	if c.Shown > 0 {
		return c.Shown - 1
	}
	return c.Decimals
}

// Digits returns n with that many decimals, or "" when it is missing.
func Digits(n reading.Number, decimals int) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(Rounded(n, decimals), 'f', decimals, 64)
}

// Rounded returns n as its decimals show it, so that a workbook holds what the CSV says.
func Rounded(n reading.Number, decimals int) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'f', decimals, 64), 64)
	if v == 0 {
		return math.Abs(v) // no "-0"
	}
	return v
}

// Decimals by quantity: about a tenth of the smallest uncertainty one can hope for.
const (
	AreaDecimals   = 2 // mm²
	PctDecimals    = 2
	LengthDecimals = 2 // mm
	HueDecimals    = 1 // °
	IndexDecimals  = 3
	ScaleDecimals  = 3 // px/mm
	TiltDecimals   = 1 // °
)

// Count returns a number that is counted.
func Count(n int) reading.Number { return reading.Number(n) }

// ComparisonDecimals are those of comparisons' figures, four decimals: a ratio's interval is known to two at best.
const ComparisonDecimals = 4
