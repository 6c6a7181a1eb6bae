package compare

import "traygauge/measure"

// Figures are what a treatment's trays gave in one quantity on one day, on the scale on which it was compared. Charts draw them.
type Figures struct {
	Day       int            `json:"day"`
	FromDay   *int           `json:"from_day"` // of a growth rate; null otherwise
	Quantity  string         `json:"quantity"`
	Unit      string         `json:"unit"`
	Treatment string         `json:"treatment"`
	Mean      measure.Number `json:"mean"` // over trays, as in the comparisons: geometric where they are by ratio
	Trays     []TrayFigure   `json:"trays"`
}

// TrayFigure is one tray's figure: its plants' mean, or what is derived from it.
type TrayFigure struct {
	Tray  int            `json:"tray"`
	Value measure.Number `json:"value"`
	Plugs int            `json:"plugs"` // behind it
}

// Range returns the lowest and the highest tray's figure. Without trays both are missing.
func (f Figures) Range() (lowest, highest measure.Number) {
	lowest, highest = measure.Missing, measure.Missing
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

// figures lists a layout's figures by treatment, those without any left out.
func (l *layout) figures() []Figures {
	var list []Figures
	for _, g := range l.groups {
		if len(g.figures) == 0 {
			continue
		}
		f := Figures{Day: l.day, FromDay: l.from, Quantity: l.name, Unit: l.unit, Treatment: g.treatment, Mean: l.meanOf(g)}
		for _, tray := range g.figures {
			f.Trays = append(f.Trays, TrayFigure{tray.tray, number(tray.value), tray.plugs})
		}
		list = append(list, f)
	}
	return list
}
