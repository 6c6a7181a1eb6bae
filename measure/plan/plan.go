// Package plan reads a trial's plan: what each tray gets, what it is compared with, when it is fed and reviewed, and how
// the trays are shaped.
package plan

import "time"

// Plan is a trial as its trial.yaml states it, checked and with defaults filled in.
type Plan struct {
	Title      string
	Crop       string
	Sown       time.Time      // day 0, midnight in Zone
	Zone       *time.Location // photos that carry no zone were taken in this one
	Tray       TrayShape
	Card       Card
	Limits     Limits
	Volume     Volume
	Treatments []Treatment // as ordered in the file
	Trays      []Tray      // as ordered in the file
	FeedDays   []int       // days since sowing
	ReviewDays []int
}

// TrayShape is the tray that all of the trial uses, in the tray frame: u along the long side from the A1 corner, v along
// the short side.
type TrayShape struct {
	Rows, Columns    int
	LengthMM         float64 // along u
	WidthMM          float64 // along v
	PitchMM          float64 // from plug to plug
	FirstU, FirstV   float64 // centre of A1, mm
	PlugBottomMM     float64 // typical diameter of a plug's bottom
	LeafHeightMM     float64 // leaves above the card's plane, where no review day says otherwise
	LeafHeightMMDays map[int]float64
}

// Card is what is known of the printed card.
type Card struct {
	RuleMM float64 // what the 100 mm of the printed ruler measure with a steel rule
	RuleU  float64 // expanded uncertainty of RuleMM; large when it was never measured
}

// Limits are the figures that decide what counts as yellow.
type Limits struct {
	ChlorosisHueDeg float64 // leaf of a lower CIELAB hue than this is yellow …
	ChlorosisChroma float64 // … when its chroma is above this
}

// Volume is how much of its mix a tray gets on a feeding day.
type Volume struct{ MLPerTray float64 }

// Treatment is what a tray can get.
type Treatment struct {
	Name        string
	Gets        []Dose
	CompareWith []string // controls; none for the plainest one
	Note        string
	Line        int
}

// Dose is one product at one strength.
type Dose struct {
	Product  string
	MLPerL   float64
	Additive bool
	FromDay  int
	Line     int
}

// Tray is one tray of the trial.
type Tray struct {
	Number    int
	Treatment string
	Position  int // place on the bench, 0 when none is given
	Line      int
}

// TreatmentOf returns the name of what the tray gets, or "" for a tray that the plan does not have.
func (p *Plan) TreatmentOf(tray int) string {
	for _, t := range p.Trays {
		if t.Number == tray {
			return t.Treatment
		}
	}
	return ""
}

// DayOf returns the whole days from sowing to t in the trial's zone.
func (p *Plan) DayOf(t time.Time) int {
	y, m, d := t.In(p.Zone).Date()
	sy, sm, sd := p.Sown.In(p.Zone).Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(time.Date(sy, sm, sd, 0, 0, 0, 0, time.UTC)).Hours() / 24)
}
