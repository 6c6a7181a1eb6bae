package table

import (
	"fmt"
	"strings"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// WithU writes a value with its expanded uncertainty: U to two significant digits, the value to the same place (JCGM 100:2008,
// 7.2.6). Without an uncertainty the value has three significant digits. No figure has a place below leastPlace.
func WithU(v, u reading.Number) string {
	switch {
	case !v.Known():
		return ""
	case !u.Known() || u <= 0:
		return wording.ToPlace(float64(v), max(leastPlace, wording.PlaceOf(float64(v), 3)))
	}
	place := max(leastPlace, wording.PlaceOf(float64(u), 2))
	return wording.ToPlace(float64(v), place) + " ± " + wording.ToPlace(float64(u), place)
}

// leastPlace is finer than anything that a photo shows: a ten thousandth of a mm², a point or an index.
const leastPlace = -4

// Plain writes a number of a plan with up to three decimals.
func Plain(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", v), "0"), ".")
}
