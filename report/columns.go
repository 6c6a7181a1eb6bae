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
	decimals int // of a number, wherever it is shown
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
	return s.Taken.Format(time.RFC3339)
}

func (s Shot) dayNumber() measure.Number {
	if s.Taken.IsZero() {
		return measure.Missing
	}
	return count(s.Day)
}

// plugColumns are the columns of plugs.csv, in its settled order.
var plugColumns = []column[PlugRow]{
	{name: "photo", title: "photo", width: 25, text: func(r PlugRow) string { return r.Photo }},
	{name: "taken", title: "taken (date and time)", width: 25, text: func(r PlugRow) string { return r.takenText() }},
	{name: "day", title: "day (since sowing)", width: 8, number: func(r PlugRow) measure.Number { return r.dayNumber() }},
	{name: "tray", title: "tray (number)", width: 8, number: func(r PlugRow) measure.Number { return count(r.Tray) }},
	{name: "treatment", title: "treatment", width: 25, text: func(r PlugRow) string { return r.Treatment }},
	{name: "view", title: "view", width: 8, text: func(r PlugRow) string { return r.View }},
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
	{name: "flags", title: "flags", width: 18, text: func(r PlugRow) string { return strings.Join(r.Flags, "; ") }},
}

// measured returns n, but missing in the view that does not measure it and for an empty plug, whatever a reading holds
// there: blank, never 0.
func (r PlugRow) measured(n measure.Number, view string) measure.Number {
	if r.View != view || r.State == measure.Empty {
		return measure.Missing
	}
	return n
}

// trayColumns are the columns of trays.csv.
var trayColumns = []column[TrayRow]{
	{name: "photo", title: "photo", width: 26, text: func(r TrayRow) string { return r.Photo }},
	{name: "taken", title: "taken (date and time)", width: 25, text: func(r TrayRow) string { return r.takenText() }},
	{name: "day", title: "day (since sowing)", width: 8, number: func(r TrayRow) measure.Number { return r.dayNumber() }},
	{name: "tray", title: "tray (number)", width: 8, number: func(r TrayRow) measure.Number { return count(r.Tray) }},
	{name: "treatment", title: "treatment", width: 25, text: func(r TrayRow) string { return r.Treatment }},
	{name: "view", title: "view", width: 8, text: func(r TrayRow) string { return r.View }},
	{name: "plugs", title: "plugs (n)", width: 7, number: func(r TrayRow) measure.Number { return count(r.Plugs) }},
	{name: "planted", title: "planted (n)", width: 8, number: func(r TrayRow) measure.Number { return count(r.Planted) }},
	{name: "empty", title: "empty (n)", width: 7, number: func(r TrayRow) measure.Number { return count(r.Empty) }},
	{name: "hidden", title: "hidden (n)", width: 8, number: func(r TrayRow) measure.Number { return count(r.Hidden) }},
	{name: "excluded", title: "excluded (n)", width: 9, number: func(r TrayRow) measure.Number { return count(r.Excluded) }},
	{name: "root_area_mean_mm2", title: "root area, mean (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.RootAreaMM2.Mean }},
	{name: "root_area_median_mm2", title: "root area, median (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.RootAreaMM2.Median }},
	{name: "root_area_sum_mm2", title: "root area, whole tray (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.RootAreaMM2.Sum }},
	{name: "root_area_sd_mm2", title: "root area, SD of plugs (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.RootAreaMM2.SD }},
	{name: "root_area_cv_pct", title: "root area, CV of plugs (%)", width: 10, decimals: pctDecimals,
		number: func(r TrayRow) measure.Number { return r.RootAreaMM2.CVPct() }},
	{name: "leaf_area_mean_mm2", title: "leaf area, mean (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.Mean }},
	{name: "leaf_area_median_mm2", title: "leaf area, median (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.Median }},
	{name: "leaf_area_sum_mm2", title: "leaf area, whole tray (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.Sum }},
	{name: "leaf_area_sd_mm2", title: "leaf area, SD of plugs (mm²)", width: 10, decimals: areaDecimals,
		number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.SD }},
	{name: "leaf_area_cv_pct", title: "leaf area, CV of plugs (%)", width: 10, decimals: pctDecimals,
		number: func(r TrayRow) measure.Number { return r.LeafAreaMM2.CVPct() }},
	{name: "canopy_cover_pct", title: "canopy cover (%)", width: 10, decimals: pctDecimals,
		number: func(r TrayRow) measure.Number { return r.CanopyCoverPct }},
	{name: "chlorotic_median_pct", title: "yellow leaf share, median (%)", width: 10, decimals: pctDecimals,
		number: func(r TrayRow) measure.Number { return r.MedianChlorotic }},
	{name: "root_browning_median_pct", title: "brown root share, median (%)", width: 10, decimals: pctDecimals,
		number: func(r TrayRow) measure.Number { return r.MedianBrowning }},
	{name: "px_per_mm", title: "scale (px/mm)", width: 9, decimals: scaleDecimals,
		number: func(r TrayRow) measure.Number { return r.PxPerMM }},
	{name: "tilt_deg", title: "camera tilt (°)", width: 9, decimals: tiltDecimals,
		number: func(r TrayRow) measure.Number { return r.TiltDeg }},
	{name: "spare_photos", title: "spare photos, not used here", width: 22,
		text: func(r TrayRow) string { return strings.Join(r.Others, "; ") }},
	{name: "concerns", title: "concerns", width: 30, text: func(r TrayRow) string { return joinConcerns(r.Concerns) }},
}

// joinConcerns writes concerns in one line.
func joinConcerns(concerns []measure.Concern) string {
	var parts []string
	for _, c := range concerns {
		part := c.Kind
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
