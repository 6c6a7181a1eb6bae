package compare

import (
	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
)

// figures lists a layout's figures by treatment, those without any left out.
func (l *layout) figures() []outcome.Figures {
	var list []outcome.Figures
	for _, g := range l.groups {
		if len(g.figures) == 0 {
			continue
		}
		f := outcome.Figures{Day: l.Day, FromDay: l.From, Quantity: l.Name, Unit: l.Unit, Treatment: g.treatment, Mean: l.meanOf(g)}
		for _, tray := range g.figures {
			f.Trays = append(f.Trays, outcome.TrayFigure{Tray: tray.Tray, Value: arithmetic.Number(tray.Value), Plugs: tray.Plugs})
		}
		list = append(list, f)
	}
	return list
}
