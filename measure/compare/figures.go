package compare

// figures lists a layout's figures by treatment, those without any left out.
func (l *layout) figures() []Figures {
	var list []Figures
	for _, g := range l.groups {
		if len(g.figures) == 0 {
			continue
		}
		f := Figures{Day: l.day, FromDay: l.from, Quantity: l.name, Unit: l.unit, Treatment: g.treatment, Mean: l.meanOf(g)}
		for _, tray := range g.figures {
			f.Trays = append(f.Trays, TrayFigure{Tray: tray.tray, Value: number(tray.value), Plugs: tray.plugs})
		}
		list = append(list, f)
	}
	return list
}
