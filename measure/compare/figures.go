package compare

import (
	"math"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// figures lists a layout's figures by treatment, those without any left out.
func (l *layout) figures() []outcome.Figures {
	var list []outcome.Figures
	for _, g := range l.groups {
		if len(g.figures) == 0 {
			continue
		}
		f := outcome.Figures{Day: l.Day, FromDay: l.From, Quantity: l.Name, Unit: l.Unit, Treatment: g.treatment, Mean: l.meanOf(g), U: l.measuringUOf(g)}
		for _, tray := range g.figures {
			f.Trays = append(f.Trays, outcome.TrayFigure{Tray: tray.Tray, Value: arithmetic.Number(tray.Value), Plugs: tray.Plugs})
		}
		list = append(list, f)
	}
	return list
}

// measuringUOf returns the expanded uncertainty of meanOf from measuring, as if all photos erred to the same side: they share the card, and what
// one photo's light does to its roots the next one's does too.
func (l *layout) measuringUOf(g group) reading.Number {
	if l.angular {
		return reading.Missing
	}
	sum, weights := 0.0, l.weights(term{g, 1})
	for i, f := range l.all() {
		if weights[i] != 0 {
			sum += math.Abs(weights[i]) * l.onScale(f, f.ExpandedU())
		}
	}
	if l.Scale == outcome.Ratio { // a relative one
		sum *= float64(l.meanOf(g))
	}
	return arithmetic.Number(sum)
}
