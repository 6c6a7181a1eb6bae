package compare

import "traygauge/measure"

// quantity is something that is compared.
type quantity struct {
	name  string
	unit  string
	scale Scale
	view  string // the photo it comes from
	power int    // of the printed scale in it: 2 for an area, 1 for a length, 0 for a share
	// plug returns a plug's value and its expanded uncertainty, Missing where the reading has none.
	plug func(measure.Plug) (value, u measure.Number)
	// tray, instead of plug, returns the value of a whole tray's photo.
	tray func(measure.Reading) measure.Number
}

func without(value measure.Number) (measure.Number, measure.Number) { return value, measure.Missing }

// barOf returns an error bar, Missing where a reading keeps none: it is then 0.
func barOf(u measure.Number) measure.Number {
	if u > 0 {
		return u
	}
	return measure.Missing
}

// measured are the quantities that a photo gives. A size is compared by its ratio, because growth multiplies; a share by its
// difference in percentage points, because it may be 0.
var measured = []quantity{
	{name: RootArea, unit: "mm²", scale: Ratio, view: "roots", power: 2,
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.RootAreaMM2, p.RootAreaUMM2 }},
	{name: RootLength, unit: "mm", scale: Ratio, view: "roots", power: 1,
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.RootLengthMM, barOf(p.RootLengthUMM) }},
	{name: RootCover, unit: "%", scale: Difference, view: "roots",
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return without(p.RootCoverPct) }},
	{name: RootBrowning, unit: "%", scale: Difference, view: "roots",
		plug: func(p measure.Plug) (measure.Number, measure.Number) {
			return p.RootBrowningPct, barOf(p.RootBrownUPct)
		}},
	{name: LeafArea, unit: "mm²", scale: Ratio, view: "shoots", power: 2,
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.LeafAreaMM2, p.LeafAreaUMM2 }},
	{name: CanopyCover, unit: "%", scale: Difference, view: "shoots",
		tray: func(r measure.Reading) measure.Number { return r.CanopyCoverPct }},
	{name: Chlorotic, unit: "%", scale: Difference, view: "shoots",
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.ChloroticPct, barOf(p.ChlorUPct) }},
	{name: LeafHue, unit: "°", scale: Difference, view: "shoots",
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.LeafHueDeg, barOf(p.LeafHueUDeg) }},
	{name: DarkGreen, unit: "", scale: Difference, view: "shoots",
		plug: func(p measure.Plug) (measure.Number, measure.Number) { return p.DGCI, barOf(p.DGCIU) }},
}
