package outcome

import "testing"

// The sentences round as the page's chart does (JCGM 100:2008, 7.2.6): half of 0.73 to 7.40 is 3.3, so tenths are shown; half of −21.8 to +36.8
// is 29, so whole points are.
func TestSentencesRoundAsTheUncertaintyAllows(t *testing.T) {
	for _, c := range []struct {
		of   Comparison
		want string
	}{
		{Comparison{Unit: "mm²", Scale: Ratio, Estimate: 2.327, Lower: 0.731, Upper: 7.404}, "2.3 times, 95 % interval 0.7 to 7.4"},
		{Comparison{Unit: "mm²", Scale: Ratio, Estimate: 1.432, Lower: 0.8804, Upper: 2.3306}, "1.43 times, 95 % interval 0.88 to 2.33"},
		{Comparison{Unit: "mm²", Scale: Ratio, Estimate: 2.4737, Lower: 1.5204, Upper: 4.0246, Verdict: More}, "2.5 times, 95 % interval 1.5 to 4.0"},
		{Comparison{Unit: "mm²", Scale: Ratio, Estimate: 1.9, Lower: 1.004, Upper: 4.6, Verdict: More}, "1.9 times, 95 % interval 1.004 to 4.6"},
		{Comparison{Unit: "%", Scale: Difference, Estimate: 7.53, Lower: -21.8, Upper: 36.8, Verdict: Unclear}, "+8 percentage points, 95 % interval −22 to +37"},
		{Comparison{Unit: "%", Scale: Difference, Estimate: -7.53, Lower: -11.8, Upper: -3.26, Verdict: Less}, "−7.5 percentage points, 95 % interval 3.3 to 11.8"},
	} {
		if got := c.of.SizeAlone() + ", " + c.of.Interval(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
