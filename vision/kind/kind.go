// Package kind holds the words for what makes a photo unusable, or doubtful, by itself.
//
//	out   the type of these words, and those that vision uses
//
// It must not know a trial: the words for what trial, plan and readings lack are in measure/reading, whose table lists these, too.
package kind

// Kind says in a word or two what is wrong. The program goes by it, scripts read it in JSON, and people see it: a word is settled once it is here.
type Kind string

// The file.
const (
	Unreadable      Kind = "unreadable"
	NotAPhoto       Kind = "not a photo"
	EmptyFile       Kind = "empty file"
	TooLarge        Kind = "too large"
	Broken          Kind = "broken"
	CutShort        Kind = "cut short"
	NotReadableHere Kind = "not readable here"
)

// The picture.
const (
	SeeThrough      Kind = "see-through"
	TooSlow         Kind = "too slow"
	ColoursNotKnown Kind = "colours not known"
	Blurred         Kind = "blurred"
	Mirrored        Kind = "mirrored"
)

// The card.
const (
	NoCard      Kind = "no card"
	HalfACard   Kind = "half a card"
	TwoCards    Kind = "two cards"
	CardUnclear Kind = "card unclear"
	CardBent    Kind = "card bent"
)

// The lens.
const (
	TooFewPhotos      Kind = "too few photos"
	PhotosTooAlike    Kind = "photos too alike"
	CornersNotReached Kind = "corners not reached"
	LensNotFitted     Kind = "lens not fitted"
	LensUncertain     Kind = "lens uncertain"
)

// The tray.
const (
	GridDoesNotFit Kind = "grid does not fit"
)
