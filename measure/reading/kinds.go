package reading

import "slices"

// Kind says in a word or two what is wrong with a photo, with a reading or with all photos together. The program goes by it, scripts read it in
// JSON, and people see it: a word is settled once it is here. What vision refuses a photo for is among these, too.
type Kind string

// The file is at fault: another photo of the tray would not cure it, or need not.
const (
	Unreadable      Kind = "unreadable"
	NotAPhoto       Kind = "not a photo"
	EmptyFile       Kind = "empty file"
	TooLarge        Kind = "too large"
	Broken          Kind = "broken"
	CutShort        Kind = "cut short"
	NotReadableHere Kind = "not readable here"
	OutsideTheTrial Kind = "outside the trial"
	SamePhotoTwice  Kind = "same photo twice"
	InternalError   Kind = "internal error" // the program itself failed
)

// faultsOfFiles are the kinds above.
var faultsOfFiles = []Kind{Unreadable, NotAPhoto, EmptyFile, TooLarge, Broken, CutShort, NotReadableHere, OutsideTheTrial, SamePhotoTwice, InternalError}

// The picture.
const (
	SeeThrough       Kind = "see-through"
	TooSlow          Kind = "too slow"
	ColoursNotKnown  Kind = "colours not known"
	NoColours        Kind = "no colours"
	Compressed       Kind = "compressed"
	Blurred          Kind = "blurred"
	ALittleBlurred   Kind = "a little blurred"
	SharpnessUnknown Kind = "sharpness unknown"
	Tilted           Kind = "tilted"
	TooFarAway       Kind = "too far away"
	Mirrored         Kind = "mirrored"
)

// The light, and the card's greys and colours in it.
const (
	TooBright        Kind = "too bright"
	TooDark          Kind = "too dark"
	ColouredLight    Kind = "coloured light"
	MixedLight       Kind = "mixed light"
	Shadow           Kind = "shadow"
	GreysUnreadable  Kind = "greys unreadable"
	ColoursChanged   Kind = "colours changed"
	ColoursDiffering Kind = "colours differ" // from those in the trial's other photos
)

// The card.
const (
	NoCard      Kind = "no card"
	HalfACard   Kind = "half a card"
	TwoCards    Kind = "two cards"
	CardUnclear Kind = "card unclear"
	CardBent    Kind = "card bent"
	CardNotFlat Kind = "card not flat"
	ScaleOff    Kind = "scale off"   // the card and the tray are at odds
	PrintScale  Kind = "print scale" // on all photos of a day
)

// The lens.
const (
	CameraNotNamed    Kind = "camera not named"
	DoesNotFit        Kind = "does not fit" // the other photos of the lens
	TooFewPhotos      Kind = "too few photos"
	PhotosTooAlike    Kind = "photos too alike"
	CornersNotReached Kind = "corners not reached"
	LensNotFitted     Kind = "lens not fitted"
	LensUncertain     Kind = "lens uncertain"
)

// The tray and what grows in it.
const (
	GridDoesNotFit      Kind = "grid does not fit"
	PlugsNotSeen        Kind = "plugs not seen"
	TrayCutOff          Kind = "tray cut off"
	SomethingOnTheTray  Kind = "something on the tray"
	WrongSide           Kind = "wrong side"
	HardlyAnyPlants     Kind = "hardly any plants"
	PlantsGone          Kind = "plants gone" // that the review before had
	LeafHeight          Kind = "leaf height"
	LeafHeightNotInPlan Kind = "leaf height not in plan"
	LeafHeightNotUsed   Kind = "leaf height not used"
)

// Which tray it is, and when it was photographed.
const (
	NoTag          Kind = "no tag"
	SeveralTags    Kind = "several tags"
	TagAgainstName Kind = "tag against name"
	TrayNotInPlan  Kind = "tray not in plan"
	TrayTwice      Kind = "tray twice"
	NoDate         Kind = "no date"
	DateNotInPlan  Kind = "date not in plan"
	DayAgainstName Kind = "day against name"
	ReviewMissing  Kind = "review missing"
	ViewMissing    Kind = "view missing"
)

// aboutTags are the kinds that say which tray a photo shows. They follow from the tags in view, the name and what was assigned, so that they are
// settled again whenever one of these changes, without looking at the photo again.
var aboutTags = []Kind{NoTag, SeveralTags, TagAgainstName}

// AboutTag reports whether a concern of this kind leaves open which tray a photo shows.
func (k Kind) AboutTag() bool { return slices.Contains(aboutTags, k) }

// The reading that was kept, and what people corrected.
const (
	MeasuredOtherwise Kind = "measured otherwise" // with another plan or program
	PhotoGone         Kind = "photo gone"
	NotMeasured       Kind = "not measured"
	GridMovedSince    Kind = "grid moved since"
	DaySetSince       Kind = "day set since"
	CorrectionNotUsed Kind = "correction not used"
	ExcludedPhoto     Kind = "excluded"
)

// aboutCorrections are the kinds that Correct adds and takes away.
var aboutCorrections = []Kind{GridMovedSince, DaySetSince, CorrectionNotUsed}
