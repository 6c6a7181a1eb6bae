package compare

import (
	"traygauge/measure"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
)

// What was found is in package outcome. These are its names for those who ask here for comparisons.
type (
	Answer     = outcome.Answer
	Without    = outcome.Without
	Result     = outcome.Result
	Verdict    = outcome.Verdict
	Scale      = outcome.Scale
	Comparison = outcome.Comparison
	TrayGrowth = outcome.TrayGrowth
	DoseTrend  = outcome.DoseTrend
	CurvePoint = outcome.CurvePoint
	Figures    = outcome.Figures
	Outlier    = outcome.Outlier
	Outlying   = outcome.Outlying
	Place      = outcome.Place
)

// The words and names that results go by, as in package outcome.
const (
	Main        = outcome.Main
	Exploratory = outcome.Exploratory

	RootArea     = outcome.RootArea
	RootLength   = outcome.RootLength
	RootCover    = outcome.RootCover
	CanopyCover  = outcome.CanopyCover
	LeafArea     = outcome.LeafArea
	RootBrowning = outcome.RootBrowning
	Chlorotic    = outcome.Chlorotic
	RootToShoot  = outcome.RootToShoot
	RootUneven   = outcome.RootUneven
	LeafUneven   = outcome.LeafUneven
	RootGrowth   = outcome.RootGrowth
	LeafGrowth   = outcome.LeafGrowth
	RootSeason   = outcome.RootSeason
	LeafSeason   = outcome.LeafSeason
	Stand        = outcome.Stand
	LeafHue      = outcome.LeafHue
	DarkGreen    = outcome.DarkGreen

	AgainstControl = outcome.AgainstControl
	Interaction    = outcome.Interaction
	Pair           = outcome.Pair

	Trays          = outcome.Trays
	TheseTraysOnly = outcome.TheseTraysOnly

	More        = outcome.More
	Less        = outcome.Less
	Unclear     = outcome.Unclear
	TheseTrays  = outcome.TheseTrays
	NotCompared = outcome.NotCompared

	Ratio      = outcome.Ratio
	Difference = outcome.Difference
)

// PWords is outcome.PWords.
func PWords(p measure.Number) string { return outcome.PWords(p) }

// PointsOf is outcome.PointsOf.
func PointsOf(unit string) string { return outcome.PointsOf(unit) }

// TrayDay and Amount are trayfigure's.
type (
	TrayDay = trayfigure.TrayDay
	Amount  = trayfigure.Amount
)

// TrayDays is trayfigure.TrayDays.
func TrayDays(p *plan.Plan, readings []measure.Reading) []TrayDay {
	return trayfigure.TrayDays(p, readings)
}
