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

// InternalError is the kind of concern of a photo at which the program itself failed.
const InternalError = "internal error"

// fileTroubles are the kinds of concern that another photo of the tray would not cure, or need not.
var fileTroubles = []string{"unreadable", "not a photo", "empty file", "too large", "broken", "cut short", "not readable here", "outside the trial", "same photo twice", InternalError}

// Verdict returns the verdict on r's photo: that of its gravest concern.
func (r Reading) Verdict() Verdict {
	if r.ExcludedBy() != nil {
		return VerdictExcluded
	}
	verdict := VerdictGood
	for _, c := range r.Concerns {
		switch {
		case c.Fatal && slices.Contains(fileTroubles, c.Kind):
			return VerdictUnusable
		case c.Fatal:
			verdict = VerdictRetake
		case verdict == VerdictGood:
			verdict = VerdictDoubt
		}
	}
	return verdict
}
