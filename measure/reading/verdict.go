package reading

import "slices"

// Verdict says in one word what a photo is good for.
type Verdict string

// The verdicts.
const (
	VerdictGood     Verdict = "good"
	VerdictDoubt    Verdict = "doubt"      // measured, with something to look at
	VerdictRetake   Verdict = "retake"     // a photo, but not one that can be measured
	VerdictUnusable Verdict = "not usable" // the file is no photo that can be read
	VerdictExcluded Verdict = "excluded"   // by hand, with a reason
)

// Usable reports whether a photo with this verdict counts.
func (v Verdict) Usable() bool { return v == VerdictGood || v == VerdictDoubt }

// Verdict returns the verdict on r's photo: that of its gravest concern.
func (r Reading) Verdict() Verdict {
	if r.ExcludedBy() != nil {
		return VerdictExcluded
	}
	verdict := VerdictGood
	for _, c := range r.Concerns {
		switch {
		case c.Fatal && slices.Contains(faultsOfFiles, c.Kind):
			return VerdictUnusable
		case c.Fatal:
			verdict = VerdictRetake
		case verdict == VerdictGood:
			verdict = VerdictDoubt
		}
	}
	return verdict
}
