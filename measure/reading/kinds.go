package reading

import (
	"slices"

	"traygauge/measure/trialdir"
	"traygauge/vision/kind"
)

// Kind says in a word or two what is wrong with a photo, with a reading or with all photos together. The table below lists all kinds; those that
// vision and trialdir know have their words there.
type Kind = kind.Kind

// The file is at fault: another photo of the tray would not cure it, or need not.
const (
	Unreadable           = kind.Unreadable
	NotAPhoto            = kind.NotAPhoto
	EmptyFile            = kind.EmptyFile
	TooLarge             = kind.TooLarge
	Broken               = kind.Broken
	CutShort             = kind.CutShort
	NotReadableHere      = kind.NotReadableHere
	OutsideTheTrial      = trialdir.OutsideTheTrial
	SamePhotoTwice  Kind = "same photo twice"
	InternalError   Kind = "internal error" // the program itself failed
)

// faultsOfFiles are the kinds above.
var faultsOfFiles = []Kind{Unreadable, NotAPhoto, EmptyFile, TooLarge, Broken, CutShort, NotReadableHere, OutsideTheTrial, SamePhotoTwice, InternalError}

// The picture.
const (
	SeeThrough            = kind.SeeThrough
	TooSlow               = kind.TooSlow
	ColoursNotKnown       = kind.ColoursNotKnown
	NoColours        Kind = "no colours"
	Compressed       Kind = "compressed"
	Blurred               = kind.Blurred
	ALittleBlurred   Kind = "a little blurred"
	PartlyBlurred    Kind = "partly blurred" // on the tray, while the card is sharp
	Doubled          Kind = "doubled"        // two pictures of the tray in one
	Noisy            Kind = "noisy"
	SharpnessUnknown Kind = "sharpness unknown"
	Tilted           Kind = "tilted"
	TooFarAway       Kind = "too far away"
	Mirrored              = kind.Mirrored
)

// The light, and the card's greys and colours in it.
const (
	TooBright        Kind = "too bright"
	TooDark          Kind = "too dark"
	ColouredLight    Kind = "coloured light"
	MixedLight       Kind = "mixed light"
	Shadow           Kind = "shadow"
	LightOnCard      Kind = "light on the card" // is not the tray's, or not the same all over
	GreysUnreadable  Kind = "greys unreadable"
	ContrastChanged  Kind = "contrast changed" // from place to place
	ColoursChanged   Kind = "colours changed"
	ColoursDiffering Kind = "colours differ" // from those in the trial's other photos
)

// The card.
const (
	NoCard           = kind.NoCard
	HalfACard        = kind.HalfACard
	TwoCards         = kind.TwoCards
	CardUnclear      = kind.CardUnclear
	CardBent         = kind.CardBent
	CardNotAtA1 Kind = "card not at A1" // but a plug or more away
	CardNotFlat Kind = "card not flat"
	ScaleOff    Kind = "scale off"   // the card and the tray are at odds
	PrintScale  Kind = "print scale" // on all photos of a day
)

// The lens.
const (
	CameraNotNamed    Kind = "camera not named"
	DoesNotFit        Kind = "does not fit" // the other photos of the lens
	TooFewPhotos           = kind.TooFewPhotos
	PhotosTooAlike         = kind.PhotosTooAlike
	CornersNotReached      = kind.CornersNotReached
	LensNotFitted          = kind.LensNotFitted
	LensUncertain          = kind.LensUncertain
)

// The tray and what grows in it.
const (
	GridDoesNotFit           = kind.GridDoesNotFit
	OtherTray           Kind = "other tray" // than the plan's
	PlugsNotSeen        Kind = "plugs not seen"
	TrayCutOff          Kind = "tray cut off"
	VeilOverTray        Kind = "veil over the tray" // fog, film or glare
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
	TrayTurned     Kind = "tray turned"      // by 180° since the review before
	LooksLikeOther Kind = "looks like other" // tray than the one it is taken for
	SamePicture    Kind = "same picture"     // as one of another day or tray
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
func AboutTag(k Kind) bool { return slices.Contains(aboutTags, k) }

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
