package report

import (
	"strconv"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/report/table"
)

// trayQuantity is a quantity's group of columns in trays.csv.
type trayQuantity struct {
	quantity      string // as in comparisons.csv
	name, nameEnd string // of the columns: name_mean_mm2, name_mean_u_mm2, name_mean_se_mm2, name_n
	title, unit   string
	decimals      int  // so many that a comparison can be worked out again from the table
	shown         int  // for people
	derived       bool // has no mean over plugs and no error bar: name_mm2, name_se_mm2, name_n
	described     bool // also by median, sum and spread
	words         string
}

// tableQuantities are the quantities of trays.csv, in its order.
var tableQuantities = []trayQuantity{
	{outcome.RootArea, "root_area", "_mm2", outcome.RootArea, "mm²", 6, table.AreaDecimals, false, true, "Area of root visible on the bottom of a plug, mean over the plants of the tray."},
	{outcome.RootLength, "root_length", "_mm", outcome.RootLength, "mm", 6, table.LengthDecimals, false, false, "Length of the visible roots of a plug, mean over the plants of the tray."},
	{outcome.RootCover, "root_cover", "_pct", outcome.RootCover, "%", 6, table.PctDecimals, false, false, "Root area as a share of the plug’s area, mean over the tray’s plants."},
	{outcome.RootBrowning, "root_browning", "_pct", outcome.RootBrowning, "%", 6, table.PctDecimals, false, false, "Brown share of the root area, mean over the tray’s plants."},
	{outcome.LeafArea, "leaf_area", "_mm2", outcome.LeafArea, "mm²", 6, table.AreaDecimals, false, true,
		"Leaf area visible from above: the area of all plants divided by the number of plants, including plants under their neighbours’ leaves."},
	{outcome.CanopyCover, "canopy_cover", "_pct", outcome.CanopyCover, "%", 6, table.PctDecimals, true, false, "Leaf area above the tray as a share of the area of the tray."},
	{outcome.Chlorotic, "chlorotic", "_pct", outcome.Chlorotic, "%", 6, table.PctDecimals, false, false, "Yellow share of the leaf area, mean over the tray’s plants."},
	{outcome.LeafHue, "leaf_hue", "_deg", outcome.LeafHue, "°", 6, table.HueDecimals, false, false, "CIELAB hue angle of the leaf, mean over the tray’s plants."},
	{outcome.DarkGreen, "dgci", "", outcome.DarkGreen, "0–1", 8, table.IndexDecimals, false, false, "Dark-green colour index (Karcher & Richardson 2003), mean over the tray’s plants."},
	{outcome.RootToShoot, "root_area_per_leaf_area", "", outcome.RootToShoot, "mm²/mm²", 8, table.IndexDecimals, true, false, "Visible root area divided by visible leaf area, for plants measured from both sides."},
	{outcome.RootUneven, "root_area_cv", "_pct", "spread of root area between plugs, CV", "%", 6, table.PctDecimals, true, false,
		"Coefficient of variation of root area between the tray’s plants. It describes one tray, not how certain the effect of a treatment is."},
	{outcome.LeafUneven, "leaf_area_cv", "_pct", "spread of leaf area between plugs, CV", "%", 6, table.PctDecimals, true, false,
		"Coefficient of variation of leaf area between the tray’s plants. It describes one tray, not how certain the effect of a treatment is."},
	{outcome.RootGrowth, "root_growth", "_pct_per_day", outcome.RootGrowth, "% a day", 6, table.PctDecimals, true, false,
		"100·ln(mean now/mean then)/days since the review before, of the plants measured on both days (Hunt 1982)."},
	{outcome.RootSeason, "root_growth_all_reviews", "_pct_per_day", outcome.RootSeason, "% a day", 6, table.PctDecimals, true, false,
		"Slope of the logarithm of the tray’s mean over time, from all review days up to the last one, where it is shown."},
	{outcome.LeafSeason, "leaf_growth_all_reviews", "_pct_per_day", outcome.LeafSeason, "% a day", 6, table.PctDecimals, true, false,
		"Slope of the logarithm of the tray’s mean over time, from all review days up to the last one, where it is shown."},
	{outcome.LeafGrowth, "leaf_growth", "_pct_per_day", outcome.LeafGrowth, "% a day", 6, table.PctDecimals, true, false,
		"100·ln(mean now/mean then)/days since the review before, of the plants measured on both days (Hunt 1982)."},
}

// meanName is the column of a quantity's figure.
func (q trayQuantity) meanName() string {
	if q.derived {
		return q.name + q.nameEnd
	}
	return q.name + "_mean" + q.nameEnd
}

// with names another column of the quantity: "u", "se".
func (q trayQuantity) with(what string) string {
	if q.derived {
		return q.name + "_" + what + q.nameEnd
	}
	return q.name + "_mean_" + what + q.nameEnd
}

// columns are the quantity's columns and what they mean.
func (q trayQuantity) columns() (columns []table.Column[trayfigure.TrayDay], meanings map[string]meaning) {
	meanings = map[string]meaning{}
	add := func(name, title string, decimals int, words string, limits *constraints, of func(trayfigure.TrayDay) reading.Number) {
		m := meaning{unit: q.unit, words: words, limits: limits}
		if decimals == 0 {
			m.unit = ""
		}
		meanings[name] = m
		c := table.Column[trayfigure.TrayDay]{Name: name, Title: title, Width: 10, Decimals: decimals, Number: of}
		if decimals > 0 {
			c.Shown = q.shown + 1
		}
		columns = append(columns, c)
	}
	amount := func(of func(trayfigure.Amount) reading.Number) func(trayfigure.TrayDay) reading.Number {
		return func(d trayfigure.TrayDay) reading.Number {
			a, ok := d.Amounts[q.quantity]
			if !ok {
				return reading.Missing
			}
			return of(a)
		}
	}
	unit := " (" + q.unit + ")"
	var least *constraints
	if q.unit != "% a day" {
		least = atLeast(0)
	}
	add(q.meanName(), q.title+unit, q.decimals, q.words, least, amount(func(a trayfigure.Amount) reading.Number { return a.Value }))
	if !q.derived {
		add(q.with("u"), q.title+", ± U"+unit, q.decimals, "Expanded uncertainty of "+q.meanName()+" from measuring, coverage factor k = 2 (JCGM 100:2008), including the printed scale; blank if no error bar is known.",
			atLeast(0), amount(func(a trayfigure.Amount) reading.Number { return a.U }))
	}
	if q.quantity != outcome.CanopyCover {
		add(q.with("se"), q.title+", standard error"+unit, q.decimals, "Standard error of "+q.meanName()+" from the plants of the tray and its photo, without the printed scale. Trays treated alike are never assumed to agree more closely than this.",
			atLeast(0), amount(func(a trayfigure.Amount) reading.Number { return a.SE }))
	}
	add(q.name+"_n", q.title+", plants (n)", 0, "Number of plants in "+q.meanName()+".", atLeast(0), amount(func(a trayfigure.Amount) reading.Number { return table.Count(a.Plugs) }))
	if q.described {
		summary := func(of func(Summary) reading.Number) func(trayfigure.TrayDay) reading.Number {
			return func(d trayfigure.TrayDay) reading.Number { return of(summaryOf(q.quantity, d)) }
		}
		add(q.name+"_median"+q.nameEnd, q.title+", median"+unit, q.shown, "Median over the tray’s plants in view.", atLeast(0), summary(func(s Summary) reading.Number { return s.Median }))
		add(q.name+"_sum"+q.nameEnd, q.title+", whole tray"+unit, q.shown, "All plants of the tray together.", atLeast(0), summary(func(s Summary) reading.Number { return s.Sum }))
		add(q.name+"_sd"+q.nameEnd, q.title+", SD of plugs"+unit, q.shown, "Standard deviation between the tray’s plants in view (n − 1). It describes one tray, not how certain the effect of a treatment is.",
			atLeast(0), summary(func(s Summary) reading.Number { return s.SD }))
	}
	return columns, meanings
}

// TrayColumns are the columns of trays.csv, and trayMeanings what they mean.
var TrayColumns, trayMeanings = allTrayColumns()

func allTrayColumns() ([]table.Column[trayfigure.TrayDay], map[string]meaning) {
	columns := []table.Column[trayfigure.TrayDay]{
		{Name: "day", Title: "day (since sowing)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return table.Count(d.Day) }},
		{Name: "tray", Title: "tray (number)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return table.Count(d.Tray) }},
		{Name: "treatment", Title: "treatment", Width: 25, Text: func(d trayfigure.TrayDay) string { return d.Treatment }},
		{Name: "position", Title: "position (on the bench)", Width: 9, Number: func(d trayfigure.TrayDay) reading.Number { return ifGiven(d.Position) }},
		{Name: "block", Title: "block (of the bench)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return ifGiven(d.Block) }},
		{Name: "bench_row", Title: "row (of the bench)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return ifGiven(d.Row) }},
		{Name: "bench_column", Title: "column (of the bench)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return ifGiven(d.Column) }},
		{Name: "roots_photo", Title: "photo of the roots", Width: 26, Text: func(d trayfigure.TrayDay) string { return d.RootsPhoto.Photo }},
		{Name: "leaves_photo", Title: "photo of the leaves", Width: 26, Text: func(d trayfigure.TrayDay) string { return d.LeavesPhoto.Photo }},
		{Name: "plugs_n", Title: "plugs (n)", Width: 7, Number: func(d trayfigure.TrayDay) reading.Number { return counted(d, d.Plugs) }},
		{Name: "plants_n", Title: "plants (n)", Width: 8, Number: func(d trayfigure.TrayDay) reading.Number { return counted(d, d.Plants) }},
		{Name: "stand_pct", Title: "stand (%)", Width: 8, Decimals: 4, Shown: 2, Number: func(d trayfigure.TrayDay) reading.Number { return d.StandPct() }},
	}
	meanings := map[string]meaning{
		"day":          {unit: "d", words: "Days since sowing; sowing day is day 0.", limits: always},
		"tray":         {words: "Number of the tray.", limits: always},
		"treatment":    {words: "Treatment of the tray; blank for a tray that is not in the plan."},
		"position":     {words: "Position of the tray on the bench, from the plan; blank if the plan has none."},
		"block":        {words: "Part of the bench within which treatments are compared, from the plan; blank if the plan has none."},
		"bench_row":    {words: "Row of the tray on the bench, from the plan; blank if the plan has none."},
		"bench_column": {words: "Column of the tray on the bench, from the plan; blank if the plan has none."},
		"roots_photo":  {words: "Photo behind the root figures, as in photos.csv; blank if there is none."},
		"leaves_photo": {words: "Photo behind the leaf figures; blank if there is none."},
		"plugs_n":      {words: "Plugs examined from above.", limits: atLeast(0)},
		"plants_n":     {words: "Plugs with a plant, out of plugs_n. The number of plants in each mean is in its own _n column.", limits: atLeast(0)},
		"stand_pct":    {unit: "%", words: "plants_n as a share of plugs_n.", limits: within(0, 100)},
	}
	for _, q := range tableQuantities {
		more, says := q.columns()
		columns = append(columns, more...)
		for name, m := range says {
			meanings[name] = m
		}
	}
	return columns, meanings
}

// ifGiven is a number of the plan, missing where the plan has none.
func ifGiven(n int) reading.Number {
	if n == 0 {
		return reading.Missing
	}
	return table.Count(n)
}

// counted is n, and missing where the tray was not photographed from above.
func counted(d trayfigure.TrayDay, n int) reading.Number {
	if d.Plugs == 0 {
		return reading.Missing
	}
	return table.Count(n)
}

// TrayColumn returns the column of that name.
func TrayColumn(name string) table.Column[trayfigure.TrayDay] {
	for _, c := range TrayColumns {
		if c.Name == name {
			return c
		}
	}
	panic("no column " + name + " in trays.csv")
}

// photoColumns are the columns of photos.csv.
var photoColumns = []table.Column[TrayRow]{
	{Name: "photo", Title: "photo", Width: 26, Text: func(r TrayRow) string { return r.Photo }},
	{Name: "sha256", Title: "SHA-256 of the file", Width: 20, Text: func(r TrayRow) string { return r.SHA256 }},
	{Name: "taken", Title: "taken (date and time)", Width: 25, Text: func(r TrayRow) string { return r.takenText() }},
	{Name: "day", Title: "day (since sowing)", Width: 8, Number: func(r TrayRow) reading.Number { return r.dayNumber() }},
	{Name: "tray", Title: "tray (number)", Width: 8, Number: func(r TrayRow) reading.Number { return table.Count(r.Tray) }},
	{Name: "treatment", Title: "treatment", Width: 25, Text: func(r TrayRow) string { return r.Treatment }},
	{Name: "side", Title: "side", Width: 8, Text: func(r TrayRow) string { return r.side() }},
	{Name: "counts", Title: "counts", Width: 8, Text: func(r TrayRow) string { return strconv.FormatBool(!r.Spare) }},
	{Name: "plugs_n", Title: "plugs (n)", Width: 7, Number: func(r TrayRow) reading.Number { return table.Count(r.Plugs) }},
	{Name: "planted_n", Title: "planted (n)", Width: 8, Number: func(r TrayRow) reading.Number { return table.Count(r.Planted) }},
	{Name: "empty_n", Title: "empty (n)", Width: 7, Number: func(r TrayRow) reading.Number { return table.Count(r.Empty) }},
	{Name: "hidden_n", Title: "hidden (n)", Width: 8, Number: func(r TrayRow) reading.Number { return table.Count(r.Hidden) }},
	{Name: "excluded_n", Title: "excluded (n)", Width: 9, Number: func(r TrayRow) reading.Number { return table.Count(r.Excluded) }},
	{Name: "scale_px_per_mm", Title: "scale (px/mm)", Width: 9, Decimals: table.ScaleDecimals, Number: func(r TrayRow) reading.Number { return r.PxPerMM }},
	{Name: "tilt_deg", Title: "camera tilt (°)", Width: 9, Decimals: table.TiltDecimals, Number: func(r TrayRow) reading.Number { return r.TiltDeg }},
	{Name: "concerns", Title: "concerns", Width: 30, Text: func(r TrayRow) string { return JoinConcerns(r.Concerns) }},
}
