package outcome

import (
	"fmt"
	"math"
	"strings"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// TrayList names trays in words with their verb: "tray 3 is", "trays 3 and 5 are".
func TrayList(numbers []int, one, several string) string {
	verb := several
	if len(numbers) == 1 {
		verb = one
	}
	return strings.TrimSpace(wording.Trays(numbers) + " " + verb)
}

// PWords writes a p value: "p = 0.031", "p < 0.001", or "" for none.
func PWords(p reading.Number) string {
	switch {
	case !p.Known():
		return ""
	case p < 0.001:
		return "p < 0.001"
	case p >= 0.1:
		return fmt.Sprintf("p = %.2f", math.Min(1, float64(p)))
	}
	return fmt.Sprintf("p = %.3f", float64(p))
}
