package trayfigure

import (
	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
)

// Quantity is something that is compared.
type Quantity struct {
	Name  string
	Unit  string
	Scale outcome.Scale
	View  reading.View // the photo it comes from
	power int          // of the printed scale in it: 2 for an area, 1 for a length, 0 for a share
	// plug returns a plug's value and its expanded uncertainty, Missing where the reading has none.
	plug func(reading.Plug) (value, u reading.Number)
	// tray, instead of plug, returns the value of a whole tray's photo.
	tray func(reading.Reading) reading.Number
}

func without(value reading.Number) (reading.Number, reading.Number) { return value, reading.Missing }

// barOf returns an error bar, Missing where a reading keeps none: it is then 0.
func barOf(u reading.Number) reading.Number {
	if u > 0 {
		return u
	}
	return reading.Missing
}

// Measured are the quantities that a photo gives. A size is compared by its ratio, because growth multiplies; a share by its
// difference in percentage points, because it may be 0.
var Measured = []Quantity{
	{Name: outcome.RootArea, Unit: "mm²", Scale: outcome.Ratio, View: reading.Roots, power: 2,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.RootAreaMM2, p.RootAreaUMM2 }},
	{Name: outcome.RootLength, Unit: "mm", Scale: outcome.Ratio, View: reading.Roots, power: 1,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.RootLengthMM, barOf(p.RootLengthUMM) }},
	{Name: outcome.RootCover, Unit: "%", Scale: outcome.Difference, View: reading.Roots,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return without(p.RootCoverPct) }},
	{Name: outcome.RootBrowning, Unit: "%", Scale: outcome.Difference, View: reading.Roots,
		plug: func(p reading.Plug) (reading.Number, reading.Number) {
			return p.RootBrowningPct, barOf(p.RootBrownUPct)
		}},
	{Name: outcome.LeafArea, Unit: "mm²", Scale: outcome.Ratio, View: reading.Shoots, power: 2,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.LeafAreaMM2, p.LeafAreaUMM2 }},
	{Name: outcome.CanopyCover, Unit: "%", Scale: outcome.Difference, View: reading.Shoots,
		tray: func(r reading.Reading) reading.Number { return r.CanopyCoverPct }},
	{Name: outcome.Chlorotic, Unit: "%", Scale: outcome.Difference, View: reading.Shoots,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.ChloroticPct, barOf(p.ChlorUPct) }},
	{Name: outcome.LeafHue, Unit: "°", Scale: outcome.Difference, View: reading.Shoots,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.LeafHueDeg, barOf(p.LeafHueUDeg) }},
	{Name: outcome.DarkGreen, Unit: "", Scale: outcome.Difference, View: reading.Shoots,
		plug: func(p reading.Plug) (reading.Number, reading.Number) { return p.DGCI, barOf(p.DGCIU) }},
}
