package outcome

import (
	"slices"

	"traygauge/measure/reading"
)

// DoseTrend says whether a quantity rises or falls with the dose of a product.
type DoseTrend struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Product  string         `json:"product"`
	Control  string         `json:"control"` // all else and none of the product
	Unit     string         `json:"unit"`
	Steps    []DoseMean     `json:"doses"`           // from the lowest up
	Curve    []CurvePoint   `json:"curve,omitempty"` // from three doses on
	P        reading.Number `json:"p"`               // two-sided, Williams' test
	Verdict  Verdict        `json:"verdict"`
	Words    string         `json:"words"`
}

// DoseMean is one dose's mean over its trays.
type DoseMean struct {
	Treatment string         `json:"treatment"`
	Dose      string         `json:"dose"` // as the plan writes it
	MLPerL    float64        `json:"ml_per_l"`
	Mean      reading.Number `json:"mean"`
	Trays     int            `json:"trays_n"`
}

// CurvePoint is a fitted curve at one dose, with its pointwise interval.
type CurvePoint struct {
	MLPerL float64        `json:"ml_per_l"`
	Value  reading.Number `json:"value"`
	Lower  reading.Number `json:"lower_95"`
	Upper  reading.Number `json:"upper_95"`
}

// Figures are what a treatment's trays gave in one quantity on one day, on the scale on which it was compared. Charts draw them.
type Figures struct {
	Day       int            `json:"day"`
	FromDay   *int           `json:"from_day"` // of a growth rate; null otherwise
	Quantity  string         `json:"quantity"`
	Unit      string         `json:"unit"`
	Treatment string         `json:"treatment"`
	Mean      reading.Number `json:"mean"` // over trays, as in the comparisons: geometric where they are by ratio
	U         reading.Number `json:"u"`    // expanded uncertainty of Mean from measuring, k = 2, as if all photos erred to the same side; missing where an error bar is
	Trays     []TrayFigure   `json:"trays"`
}

// TrayFigure is one tray's figure: its plants' mean, or what is derived from it.
type TrayFigure struct {
	Tray  int            `json:"tray"`
	Value reading.Number `json:"value"`
	Plugs int            `json:"plugs"` // behind it
}

// Range returns the lowest and the highest tray's figure. Without trays both are missing.
func (f Figures) Range() (lowest, highest reading.Number) {
	lowest, highest = reading.Missing, reading.Missing
	for _, t := range f.Trays {
		if !(lowest <= t.Value) {
			lowest = t.Value
		}
		if !(highest >= t.Value) {
			highest = t.Value
		}
	}
	return lowest, highest
}

// Outlier is a plug that stands out in its tray. It is listed and counts: whoever finds a reason excludes it by hand.
type Outlier struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Tray     int            `json:"tray"`
	Plug     string         `json:"plug"`
	Value    reading.Number `json:"value"` // in the quantity's unit
	Usual    reading.Number `json:"usual"` // the median of the tray's plants
	Z        reading.Number `json:"z"`     // modified z score; missing for a plant without any
	Words    string         `json:"words"`
}

// Outlying is a tray that stands out from those treated alike, or two of which one does. It is listed, and it counts.
type Outlying struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Trays    []int          `json:"trays"`    // two or more where nothing tells which of them it is
	Value    reading.Number `json:"value"`    // of the first, in the quantity's unit
	Expected reading.Number `json:"expected"` // of the first, by all other trays
	T        reading.Number `json:"t"`        // its externally studentised residual
	DF       int            `json:"df"`
	P        reading.Number `json:"p"` // for all trays looked at
	Words    string         `json:"words"`
}

// StandsOut lists the trays that stand out in the main question's quantity on its day.
func (r *Result) StandsOut() []int {
	var trays []int
	for _, o := range r.Outlying {
		if o.Quantity == r.Answer.Quantity && o.Day == r.Answer.Day {
			trays = append(trays, o.Trays...)
		}
	}
	slices.Sort(trays)
	return trays
}

// Place says what a tray's place on the bench, or a plug's place in its tray, made of a quantity on a day.
type Place struct {
	Day      int            `json:"day"`
	Quantity string         `json:"quantity"`
	Kind     string         `json:"kind"` // "edge of the tray" or "place on the bench"
	Ratio    reading.Number `json:"ratio"`
	Lower    reading.Number `json:"ratio_lower_95"`
	Upper    reading.Number `json:"ratio_upper_95"`
	P        reading.Number `json:"p"`
	Trays    int            `json:"trays_n"`
	Words    string         `json:"words"`
}

// The kinds of place.
const (
	TrayEdge   = "edge of the tray"
	BenchPlace = "place on the bench"
)
