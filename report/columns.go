package report

import (
	"strings"
	"time"

	"traygauge/measure"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

func (s Shot) takenText() string {
	if s.Taken.IsZero() {
		return ""
	}
	if s.toTheDay {
		return s.Taken.Format(time.DateOnly)
	}
	return s.Taken.Format(time.RFC3339)
}

// TakenWords says when a photo was taken, in public to the day.
func (s Shot) TakenWords() string {
	switch {
	case s.Taken.IsZero():
		return ""
	case s.toTheDay:
		return s.Taken.Format(time.DateOnly)
	}
	return s.Taken.Format("2006-01-02 15:04")
}

func (s Shot) dayNumber() reading.Number {
	if s.Taken.IsZero() {
		return reading.Missing
	}
	return table.Count(s.Day)
}

// side is the word for what a photo shows.
func (s Shot) side() string { return measure.ViewWord(s.View) }

// PlugColumns are the columns of plugs.csv, in its settled order.
var PlugColumns = []table.Column[PlugRow]{
	{Name: "photo", Title: "photo", Width: 25, Text: func(r PlugRow) string { return r.Photo }},
	{Name: "taken", Title: "taken (date and time)", Width: 25, Text: func(r PlugRow) string { return r.takenText() }},
	{Name: "day", Title: "day (since sowing)", Width: 8, Number: func(r PlugRow) reading.Number { return r.dayNumber() }},
	{Name: "tray", Title: "tray (number)", Width: 8, Number: func(r PlugRow) reading.Number { return table.Count(r.Tray) }},
	{Name: "treatment", Title: "treatment", Width: 25, Text: func(r PlugRow) string { return r.Treatment }},
	{Name: "side", Title: "side", Width: 8, Text: func(r PlugRow) string { return r.side() }},
	{Name: "plug", Title: "plug", Width: 7, Text: func(r PlugRow) string { return r.Name }},
	{Name: "state", Title: "state", Width: 9, Text: func(r PlugRow) string { return string(r.State) }},
	{Name: "root_area_mm2", Title: "root area (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.RootAreaMM2, "roots") }},
	{Name: "root_area_u_mm2", Title: "root area, ± U (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.RootAreaUMM2, "roots") }},
	{Name: "root_cover_pct", Title: "root cover (%)", Width: 10, Decimals: table.PctDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.RootCoverPct, "roots") }},
	{Name: "root_length_mm", Title: "root length (mm)", Width: 10, Decimals: table.LengthDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.RootLengthMM, "roots") }},
	{Name: "root_browning_pct", Title: "brown root share (%)", Width: 10, Decimals: table.PctDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.RootBrowningPct, "roots") }},
	{Name: "plug_area_mm2", Title: "plug area (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.PlugAreaMM2, "roots") }},
	{Name: "leaf_area_mm2", Title: "leaf area (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.LeafAreaMM2, "shoots") }},
	{Name: "leaf_area_u_mm2", Title: "leaf area, ± U (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.LeafAreaUMM2, "shoots") }},
	{Name: "chlorotic_pct", Title: "yellow leaf share (%)", Width: 10, Decimals: table.PctDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.ChloroticPct, "shoots") }},
	{Name: "leaf_hue_deg", Title: "leaf hue (°)", Width: 10, Decimals: table.HueDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.LeafHueDeg, "shoots") }},
	{Name: "dgci", Title: "dark-green colour index (0–1)", Width: 10, Decimals: table.IndexDecimals,
		Number: func(r PlugRow) reading.Number { return r.measured(r.DGCI, "shoots") }},
	{Name: "root_length_u_mm", Title: "root length, ± U (mm)", Width: 10, Decimals: table.LengthDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.RootLengthUMM, "roots") }},
	{Name: "root_browning_u_pct", Title: "brown root share, ± U (points)", Width: 10, Decimals: table.PctDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.RootBrownUPct, "roots") }},
	{Name: "plug_area_u_mm2", Title: "plug area, ± U (mm²)", Width: 10, Decimals: table.AreaDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.PlugAreaUMM2, "roots") }},
	{Name: "chlorotic_u_pct", Title: "yellow leaf share, ± U (points)", Width: 10, Decimals: table.PctDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.ChlorUPct, "shoots") }},
	{Name: "leaf_hue_u_deg", Title: "leaf hue, ± U (°)", Width: 10, Decimals: table.HueDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.LeafHueUDeg, "shoots") }},
	{Name: "dgci_u", Title: "dark-green colour index, ± U", Width: 10, Decimals: table.IndexDecimals,
		Number: func(r PlugRow) reading.Number { return r.bar(r.DGCIU, "shoots") }},
	{Name: "remarks", Title: "remarks", Width: 18, Text: func(r PlugRow) string { return strings.Join(r.Flags, "; ") }},
}

// measured returns n, but missing in the view that does not measure it and for an empty plug, whatever a reading holds
// there: blank, never 0.
func (r PlugRow) measured(n reading.Number, view string) reading.Number {
	if r.View != view || r.State == reading.Empty {
		return reading.Missing
	}
	return n
}

// bar returns an error bar, missing where the reading keeps none: it is then 0.
func (r PlugRow) bar(u reading.Number, view string) reading.Number {
	if !(u > 0) {
		return reading.Missing
	}
	return r.measured(u, view)
}

// JoinConcerns writes concerns in one line.
func JoinConcerns(concerns []reading.Concern) string {
	var parts []string
	for _, c := range concerns {
		part := c.Short()
		if c.Words != "" {
			part += ": " + c.Words
		}
		if c.Remedy != "" {
			part += ": " + c.Remedy
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, "; ")
}

// AmountWords is a tray's figure in a quantity with its uncertainty, "" for none.
func AmountWords(d trayfigure.TrayDay, quantity string) string {
	a, ok := d.Amounts[quantity]
	if !ok {
		return ""
	}
	return table.WithU(a.Value, a.U)
}
