package compare

import (
	"strings"
	"testing"

	"traygauge/measure/reading"
)

// A photo that is in doubt says so in each comparison that it is part of: which tray, of what, why, and which way it would push the result.
func TestADoubtedPhotoIsALimitOfItsComparisons(t *testing.T) {
	doubted := roots(2, 14, 50, 60)
	doubted.Concerns = []reading.Concern{{Kind: "scale off", Words: "by the card the plugs are 51.5 mm apart", Remedy: "check the print", Bias: "its areas would be 6 % too large"}}
	r := Of(twoTreatments(1, 1), []reading.Reading{roots(1, 14, 10, 20), doubted}, nil, Options{})
	n := 0
	for _, c := range r.Comparisons {
		said := strings.Join(c.Limits, "\n")
		if strings.Contains(said, "the roots photo of tray 2 is doubtful (scale off: its areas would be 6 % too large)") {
			n++
		}
		if strings.Contains(said, "photo of tray 1 ") {
			t.Errorf("%s: %s", c.Quantity, said)
		}
	}
	if n == 0 {
		t.Errorf("no comparison says it: %+v", r.Comparisons)
	}
}
