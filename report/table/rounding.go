package table

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"traygauge/measure/reading"
)

// WithU writes a value with its expanded uncertainty: U to two significant digits, the value to the same place (JCGM 100:2008,
// 7.2.6). Without an uncertainty the value has three significant digits. No figure has a place below leastPlace.
func WithU(v, u reading.Number) string {
	switch {
	case !v.Known():
		return ""
	case !u.Known() || u <= 0:
		return ToPlace(float64(v), max(leastPlace, PlaceOf(float64(v), 3)))
	}
	place := max(leastPlace, PlaceOf(float64(u), 2))
	return ToPlace(float64(v), place) + " ± " + ToPlace(float64(u), place)
}

// leastPlace is finer than anything that a photo shows: a ten thousandth of a mm², a point or an index.
const leastPlace = -4

// PlaceOf returns the power of ten of the last of so many significant digits of v.
func PlaceOf(v float64, digits int) int {
	if v == 0 {
		return 0
	}
	return int(math.Floor(math.Log10(math.Abs(v)))) - digits + 1
}

// ToPlace writes v rounded to a power of ten, with a true minus.
func ToPlace(v float64, place int) string {
	step := math.Pow10(place)
	s := strconv.FormatFloat(math.Round(v/step)*step, 'f', max(0, -place), 64)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// Plain writes a number of a plan with up to three decimals.
func Plain(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", v), "0"), ".")
}
