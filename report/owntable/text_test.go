package owntable

import (
	"math"
	"strings"
	"testing"
)

// As many decimals as the interval deserves, and never so few that it seems to reach no difference when it does not.
func TestEstimatesAreRoundedByTheirIntervals(t *testing.T) {
	for _, c := range []struct {
		v, lower, upper, none float64
		want                  string
	}{
		{0.9202, 0.8073, 1.0488, 1, "0.92 0.81 to 1.05"},
		{12.4167, 8.148, 16.69, 0, "12.4 8.1 to 16.7"},
		{6.96, 3.565, 33.64, 1, "7.0 3.6 to 33.6"},
		{0.0168, 0.0002, 0.0334, 0, "0.0168 0.0002 to 0.0334"},
		{1.25, 1.003, 1.55, 1, "1.250 1.003 to 1.550"},
		{1234.4, 1100, 1400, 0, "1234 1100 to 1400"},
		{2, math.Inf(-1), math.Inf(1), 0, "2.00 no bounds"},
		{2.5, 0, math.Inf(1), 1, "2.50 too wide"}, // by ranks, with few values
		{1.2, -0.4, 176.1, 1, "1.20 too wide"},    // Fieller's interval of a ratio may even be below 0
		{-314, -1273, 645, 0, "−314 −1273 to 645"},
		{2, math.NaN(), math.NaN(), 0, "2.00 "},
		{5, 5, 5, 0, "5.0 5.0 to 5.0"},
	} {
		if got := strings.Join(estimated(c.v, c.lower, c.upper, c.none), " "); got != c.want {
			t.Errorf("%v (%v to %v): %q, want %q", c.v, c.lower, c.upper, got, c.want)
		}
	}
}
