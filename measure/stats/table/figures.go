package table

import (
	"math"
	"strconv"
)

// Figure writes a number with four digits, and nothing for none. Digits before the point are never rounded away.
func Figure(v float64) string { return significant(v, 4) }

// Short is Figure with three digits, enough for what has an interval beside it.
func Short(v float64) string { return significant(v, 3) }

func significant(v float64, n int) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return ""
	case a >= math.Pow10(n-1) && a < 1e15:
		return strconv.FormatFloat(v, 'f', 0, 64)
	case a >= 1e-4 && a < 1e15:
		return strconv.FormatFloat(v, 'f', n-1-int(math.Floor(math.Log10(a))), 64)
	}
	return strconv.FormatFloat(v, 'g', n, 64)
}
