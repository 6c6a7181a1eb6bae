// Package plan reads and checks the plan of a trial: treatments, controls, feeding days, review days and the shape of the trays.
//
//	in    trial.yaml, and the profiles of the trial's lenses
//	out   a checked plan or findings by line; differences between treatments, dose series, mixes, random positions
//
// It must not depend on what was done or what photos show.
package plan

import (
	"strconv"
	"time"
	_ "time/tzdata" // zones are known where the system has none, as in a small container

	"traygauge/vision/lens"
)

// MaxTray is the largest tray number: tags for tray 1 to 240 use the dictionary's codes 10 to 249.
const MaxTray = 240

// Plan is a trial as its trial.yaml states it, checked and with defaults filled in.
type Plan struct {
	Title      string
	Crop       string
	Sown       time.Time      // day 0, its first moment in Zone
	Zone       *time.Location // photos that carry no zone were taken in this one
	Tray       TrayShape
	Card       Card
	Limits     Limits
	Volume     Volume
	Treatments []Treatment // as ordered in the file
	Trays      []Tray      // as ordered in the file
	PlacesSeed int         // the seed that drew the trays' places; 0 when nothing says how they were drawn
	FeedDays   []int       // days since sowing
	ReviewDays []int

	MainQuestion Question
	DataLicence  string // under which the measured data may be used; "" where the plan does not say

	Lenses []lens.Profile // of the trial's cameras, from beside the plan
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
	LeafHeightMM     float64 // leaves above the card's plane, where LeafHeightMMDays is empty
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
	Written  string // the strength as the plan writes it, such as "7.5 mL/gal"
	Additive bool
	FromDay  int
	Line     int
}

// Tray is one tray of the trial.
type Tray struct {
	Number    int
	Treatment string
	Position  int // place on the bench, 0 when none is given
	Block     int // of trays that stand together, 0 when none is given
	Row       int // of trays on the bench, 0 when none is given
	Column    int // of trays on the bench, 0 when none is given
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

// Treatment returns the treatment called name, or nil.
func (p *Plan) Treatment(name string) *Treatment {
	for i := range p.Treatments {
		if p.Treatments[i].Name == name {
			return &p.Treatments[i]
		}
	}
	return nil
}

// names returns the treatments' names in the plan's order.
func (p *Plan) names() []string {
	names := make([]string, len(p.Treatments))
	for i, t := range p.Treatments {
		names[i] = t.Name
	}
	return names
}

// TrayNumbers returns the numbers of all trays, in the plan's order.
func (p *Plan) TrayNumbers() []int {
	numbers := make([]int, len(p.Trays))
	for i, t := range p.Trays {
		numbers[i] = t.Number
	}
	return numbers
}

// TraysOf returns the numbers of the trays that get the treatment called name, in the plan's order.
func (p *Plan) TraysOf(name string) []int {
	var numbers []int
	for _, t := range p.Trays {
		if t.Treatment == name {
			numbers = append(numbers, t.Number)
		}
	}
	return numbers
}

// PlugNames returns the tray's plugs row by row: A1, A2, … E10.
func (p *Plan) PlugNames() []string {
	names := make([]string, 0, p.Tray.Rows*p.Tray.Columns)
	for row := range p.Tray.Rows {
		for column := range p.Tray.Columns {
			names = append(names, PlugName(row, column))
		}
	}
	return names
}

// PlugName returns the name of the plug in row and column, both counted from 0: (0, 0) is A1. Rows are 0 to 25.
func PlugName(row, column int) string { return string(rune('A'+row)) + strconv.Itoa(column+1) }

// DayOf returns the whole days from sowing to t in the trial's zone, counted as dates on a calendar: a day on which the
// clocks change is one day. Before sowing it is negative.
func (p *Plan) DayOf(t time.Time) int {
	return int(calendarDay(t, p.zone()).Sub(calendarDay(p.Sown, p.zone())) / (24 * time.Hour))
}

// DateOf returns the first moment of a day since sowing, in the trial's zone.
func (p *Plan) DateOf(day int) time.Time {
	y, m, d := p.Sown.In(p.zone()).Date()
	return firstMoment(y, m, d+day, p.zone())
}

func (p *Plan) zone() *time.Location {
	if p.Zone == nil {
		return time.Local
	}
	return p.Zone
}

// InSomeZone returns p, or a copy in UTC when p states no zone.
func (p *Plan) InSomeZone() *Plan {
	if p.Zone != nil {
		return p
	}
	q := *p
	q.Zone = time.UTC
	return &q
}

// calendarDay returns t's date in zone as midnight UTC, where all days are of 24 hours.
func calendarDay(t time.Time, zone *time.Location) time.Time {
	y, m, d := t.In(zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// firstMoment returns the first moment of a date in zone. Where the clocks go forward at midnight it is 01:00.
func firstMoment(y int, m time.Month, d int, zone *time.Location) time.Time {
	t := time.Date(y, m, d, 0, 0, 0, 0, zone)
	// time.Date may answer an hour that does not exist with the same clock time before the change, which is a day too early.
	if want := time.Date(y, m, d, 0, 0, 0, 0, time.UTC); calendarDay(t, zone).Before(want) {
		t = t.Add(time.Hour)
	}
	return t
}
