package measure

import "traygauge/measure/reading"

// What a photo gave is in package reading. These are its names for those who take figures from here.
type (
	Number  = reading.Number
	Place   = reading.Place
	State   = reading.State
	Plug    = reading.Plug
	Concern = reading.Concern
	Reading = reading.Reading
	Verdict = reading.Verdict
)

// Missing is the Number of what was not measured.
var Missing = reading.Missing

// The states of a plug, remarks on it, verdicts, and the kinds of concern about which tray it is, as in package reading.
const (
	Planted  = reading.Planted
	Empty    = reading.Empty
	Hidden   = reading.Hidden
	Excluded = reading.Excluded

	ExcludedByHand = reading.ExcludedByHand
	EmptyByHand    = reading.EmptyByHand
	PlantedByHand  = reading.PlantedByHand
	GridByHand     = reading.GridByHand

	VerdictGood     = reading.VerdictGood
	VerdictDoubt    = reading.VerdictDoubt
	VerdictRetake   = reading.VerdictRetake
	VerdictUnusable = reading.VerdictUnusable
	VerdictExcluded = reading.VerdictExcluded

	FromHand       = reading.FromHand
	NoTag          = reading.NoTag
	SeveralTags    = reading.SeveralTags
	TagAgainstName = reading.TagAgainstName
)

// LoadReadings is reading.LoadReadings.
func LoadReadings(dir string) ([]Reading, []error) { return reading.LoadReadings(dir) }

// ShowCorrections is reading.ShowCorrections.
func ShowCorrections(dir, sha string) error { return reading.ShowCorrections(dir, sha) }

// BetterFirst is reading.BetterFirst.
func BetterFirst(a, b Reading) int { return reading.BetterFirst(a, b) }

// TrayInName is reading.TrayInName.
func TrayInName(photo string) int { return reading.TrayInName(photo) }

// Shown is reading.Shown.
func Shown(name string) string { return reading.Shown(name) }
