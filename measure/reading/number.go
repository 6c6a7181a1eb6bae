package reading

import (
	"bytes"
	"encoding/json"
	"math"
)

// Number is a measured figure. What was not measured is Missing, never 0: it is null in JSON and blank in a table.
type Number float64

// Missing is the Number of what was not measured.
var Missing = Number(math.NaN())

// Known reports whether n was measured.
func (n Number) Known() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// MarshalJSON writes null for what is not known.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// UnmarshalJSON reads null as Missing.
func (n *Number) UnmarshalJSON(b []byte) error {
	if bytes.Equal(b, []byte("null")) {
		*n = Missing
		return nil
	}
	return json.Unmarshal(b, (*float64)(n))
}
