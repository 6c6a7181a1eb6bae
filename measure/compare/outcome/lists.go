package outcome

import (
	"fmt"
	"math"

	"traygauge/measure/reading"
)

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
