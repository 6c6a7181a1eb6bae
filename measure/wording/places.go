package wording

import (
	"math"
	"strconv"
	"strings"
)

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
