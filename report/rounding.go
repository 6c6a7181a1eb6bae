package report

import (
	"math"
	"strconv"
	"strings"

	"traygauge/measure"
	"traygauge/measure/compare"
)

// withU writes a value with its expanded uncertainty: U to two significant digits, the value to the same place (JCGM 100:2008,
// 7.2.6). Without an uncertainty the value has three significant digits.
func withU(v, u measure.Number) string {
	switch {
	case !v.Known():
		return ""
	case !u.Known() || u <= 0:
		return toPlace(float64(v), placeOf(float64(v), 3))
	}
	place := placeOf(float64(u), 2)
	return toPlace(float64(v), place) + " ± " + toPlace(float64(u), place)
}

// placeOf returns the power of ten of the last of so many significant digits of v.
func placeOf(v float64, digits int) int {
	if v == 0 {
		return 0
	}
	return int(math.Floor(math.Log10(math.Abs(v)))) - digits + 1
}

func toPlace(v float64, place int) string {
	step := math.Pow10(place)
	s := strconv.FormatFloat(math.Round(v/step)*step, 'f', max(0, -place), 64)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// amountWords is a tray's figure in a quantity with its uncertainty, "" for none.
func amountWords(d compare.TrayDay, quantity string) string {
	a, ok := d.Amounts[quantity]
	if !ok {
		return ""
	}
	return withU(a.Value, a.U)
}
