package html

import (
	"fmt"
	"slices"

	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html/plugs"
	"traygauge/report/table"
)

// strip shows a treatment's typical plugs in one view.
type strip struct {
	Treatment, View, Quantity string
	Note                      string
	Plugs                     []shownPlug
}

type shownPlug struct {
	Tray                         int
	Name, Value, Median, Alt, ID string
	Plain, Counted               string
	Side                         int
}

func strips(t *report.Trial, pictures *plugs.Pictures, day int) []strip {
	var all []strip
	for _, typical := range pictures.Typical {
		side := typical.Side
		st := strip{Treatment: typical.Treatment, View: side.Words, Quantity: side.Quantity}
		var trays []int
		for _, plug := range typical.Plugs {
			plain, counted := pictures.Links(plug)
			value, median := side.Value(plug), table.WithU(side.Median(t, plug.Shot), reading.Missing)
			st.Plugs = append(st.Plugs, shownPlug{Tray: plug.Tray, Name: plug.Name, Value: value, Median: median, ID: plugs.PhotoID(plug.Tray, day, side.View),
				Plain: plain, Counted: counted, Side: pictures.Size.SidePx,
				Alt: fmt.Sprintf("Plug %s of tray %d, %s, day %d: %s %s mm², the tray’s median is %s mm²", plug.Name, plug.Tray, side.Words, day, side.Quantity, value, median)})
			if !slices.Contains(trays, plug.Tray) {
				trays = append(trays, plug.Tray)
			}
		}
		if len(st.Plugs) == 0 {
			continue
		}
		if n := len(t.Plan.TraysOf(typical.Treatment)); n > len(trays) {
			st.Note = fmt.Sprintf("%d of %d trays", len(trays), n)
		}
		all = append(all, st)
	}
	return all
}
