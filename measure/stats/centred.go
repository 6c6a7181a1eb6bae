package stats

import (
	"fmt"
	"math/big"
	"strings"
)

// ParseCentred reads decimal numbers as their distances from the first of them, taken off exactly before anything is rounded. Numbers
// with many leading digits in common, such as 1000000000000.4, keep the digits in which they differ; sums of squares, F and
// differences of the distances are those of the numbers.
func ParseCentred(texts []string) (distances []float64, centre float64, err error) {
	first := new(big.Rat)
	for i, s := range texts {
		r, err := exactly(s)
		if err != nil {
			return nil, 0, err
		}
		if i == 0 {
			first.Set(r)
			centre, _ = r.Float64()
		}
		d, _ := r.Sub(r, first).Float64()
		distances = append(distances, d)
	}
	return distances, centre, nil
}

// exactly reads a decimal number as a fraction. Exponents are bounded, as 1e999999999 would be written out in full.
func exactly(s string) (*big.Rat, error) {
	s = strings.TrimSpace(s)
	if at := strings.IndexAny(s, "eE"); at >= 0 && len(strings.TrimLeft(s[at+1:], "+-0")) > 3 || strings.ContainsAny(s, "/_xXpPbBoO") {
		return nil, fmt.Errorf("%q is not a decimal number", s)
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, fmt.Errorf("%q is not a decimal number", s)
	}
	return r, nil
}
