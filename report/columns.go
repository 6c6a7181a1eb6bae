package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"traygauge/measure"
)

// column is one column of a table in whatever form it is printed. Exactly one of number and text is set.
type column[Row any] struct {
	name     string // in CSV and JSON
	title    string // in the workbook, with the unit
	width    float64
	decimals int // of a number, in CSV and JSON and in a workbook's cell
	shown    int // one more than the decimals for people, 0 where they are the same
	number   func(Row) measure.Number
	text     func(Row) string
}

// show returns the cell as text, blank for a number that is missing.
func (c column[Row]) show(r Row) string {
	if c.text != nil {
		return c.text(r)
	}
	return digits(c.number(r), c.decimals)
}

// people returns the cell as it is shown to people: not finer than it is worth reading.
func (c column[Row]) people(r Row) string {
	if c.text != nil {
		return c.text(r)
	}
	return digits(c.number(r), c.shownDecimals())
}

func (c column[Row]) shownDecimals() int {
	if c.shown > 0 {
		return c.shown - 1
	}
	return c.decimals
}

// digits returns n with that many decimals, or "" when it is missing.
func digits(n measure.Number, decimals int) string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(rounded(n, decimals), 'f', decimals, 64)
}

// rounded returns n as its decimals show it, so that a workbook holds what the CSV says.
func rounded(n measure.Number, decimals int) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'f', decimals, 64), 64)
	if v == 0 {
		return math.Abs(v) // no "-0"
	}
	return v
}

// Decimals by quantity: about a tenth of the smallest uncertainty one can hope for.
const (
	areaDecimals   = 2 // mm²
	pctDecimals    = 2
	lengthDecimals = 2 // mm
	hueDecimals    = 1 // °
	indexDecimals  = 3
	scaleDecimals  = 3 // px/mm
	tiltDecimals   = 1 // °
)

func count(n int) measure.Number { return measure.Number(n) }

func (s Shot) takenText() string {
	if s.Taken.IsZero() {
		return ""
	}
	if s.toTheDay {
		return s.Taken.Format(time.DateOnly)
	}
	return s.Taken.Format(time.RFC3339)
}

func (s Shot) dayNumber() measure.Number {
	if s.Taken.IsZero() {
		return measure.Missing
	}
	return count(s.Day)
}

// side is the word for what a photo shows.
func (s Shot) side() string { return measure.ViewWord(s.View) }

// plugColumns are the columns of plugs.csv, in its settled order.
var plugColumns = []column[PlugRow]{
	{name: "photo", title: "photo", width: 25, text: func(r PlugRow) string { return r.Photo }},
	{name: "taken", title: "taken (date and time)", width: 25, text: func(r PlugRow) string { return r.takenText() }},
	{name: "day", title: "day (since sowing)", width: 8, number: func(r PlugRow) measure.Number { return r.dayNumber() }},
	{name: "tray", title: "tray (number)", width: 8, number: func(r PlugRow) measure.Number { return count(r.Tray) }},
	{name: "treatment", title: "treatment", width: 25, text: func(r PlugRow) string { return r.Treatment }},
	{name: "side", title: "side", width: 8, text: func(r PlugRow) string { return r.side() }},
	{name: "plug", title: "plug", width: 7, text: func(r PlugRow) string { return r.Name }},
	{name: "state", title: "state", width: 9, text: func(r PlugRow) string { return string(r.State) }},
	{name: "root_area_mm2", title: "root area (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.RootAreaMM2, "roots") }},
	{name: "root_area_u_mm2", title: "root area, ± U (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.RootAreaUMM2, "roots") }},
	{name: "root_cover_pct", title: "root cover (%)", width: 10, decimals: pctDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.RootCoverPct, "roots") }},
	{name: "root_length_mm", title: "root length (mm)", width: 10, decimals: lengthDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.RootLengthMM, "roots") }},
	{name: "root_browning_pct", title: "brown root share (%)", width: 10, decimals: pctDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.RootBrowningPct, "roots") }},
	{name: "plug_area_mm2", title: "plug area (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.PlugAreaMM2, "roots") }},
	{name: "leaf_area_mm2", title: "leaf area (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.LeafAreaMM2, "shoots") }},
	{name: "leaf_area_u_mm2", title: "leaf area, ± U (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.LeafAreaUMM2, "shoots") }},
	{name: "chlorotic_pct", title: "yellow leaf share (%)", width: 10, decimals: pctDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.ChloroticPct, "shoots") }},
	{name: "leaf_hue_deg", title: "leaf hue (°)", width: 10, decimals: hueDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.LeafHueDeg, "shoots") }},
	{name: "dgci", title: "dark-green colour index (0–1)", width: 10, decimals: indexDecimals,
		number: func(r PlugRow) measure.Number { return r.measured(r.DGCI, "shoots") }},
	{name: "root_length_u_mm", title: "root length, ± U (mm)", width: 10, decimals: lengthDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.RootLengthUMM, "roots") }},
	{name: "root_browning_u_pct", title: "brown root share, ± U (points)", width: 10, decimals: pctDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.RootBrownUPct, "roots") }},
	{name: "plug_area_u_mm2", title: "plug area, ± U (mm²)", width: 10, decimals: areaDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.PlugAreaUMM2, "roots") }},
	{name: "chlorotic_u_pct", title: "yellow leaf share, ± U (points)", width: 10, decimals: pctDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.ChlorUPct, "shoots") }},
	{name: "leaf_hue_u_deg", title: "leaf hue, ± U (°)", width: 10, decimals: hueDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.LeafHueUDeg, "shoots") }},
	{name: "dgci_u", title: "dark-green colour index, ± U", width: 10, decimals: indexDecimals,
		number: func(r PlugRow) measure.Number { return r.bar(r.DGCIU, "shoots") }},
	{name: "remarks", title: "remarks", width: 18, text: func(r PlugRow) string { return strings.Join(r.Flags, "; ") }},
}

// measured returns n, but missing in the view that does not measure it and for an empty plug, whatever a reading holds
// there: blank, never 0.
func (r PlugRow) measured(n measure.Number, view string) measure.Number {
	if r.View != view || r.State == measure.Empty {
		return measure.Missing
	}
	return n
}

// bar returns an error bar, missing where the reading keeps none: it is then 0.
func (r PlugRow) bar(u measure.Number, view string) measure.Number {
	if !(u > 0) {
		return measure.Missing
	}
	return r.measured(u, view)
}

// joinConcerns writes concerns in one line.
func joinConcerns(concerns []measure.Concern) string {
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
