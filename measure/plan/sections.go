package plan

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"time"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
	"traygauge/measure/plan/yamlfile"
)

// What is assumed where the plan says nothing.
const (
	// A card whose ruler was never measured is taken for true to size. Printers are off by up to a few per cent: 2 mm in 100
	// is an expanded uncertainty (k = 2) that covers most of them, and makes one of 4 % in every area.
	unmeasuredRuleMM = 100.0
	unmeasuredRuleU  = 2.0

	// A steel rule with half-millimetre divisions laid on the printed ticks reads to about half a millimetre.
	defaultRuleU = 0.5

	// A plug's bottom is narrower than its place in the tray. 34 mm of 50 mm is usual for trays of fifty.
	defaultBottomOfPitch = 0.68

	defaultChlorosisHueDeg = 105.0
	defaultChlorosisChroma = 15.0

	lastDay = 400 // days from sowing; a plug tray's trial is over long before
)

// plan reads the topmost block and then checks what needs more than one of its parts.
func (r *reader) plan(root *yaml.Node) *Plan {
	p := &Plan{
		Zone:   time.Local,
		Card:   Card{unmeasuredRuleMM, unmeasuredRuleU},
		Limits: Limits{defaultChlorosisHueDeg, defaultChlorosisChroma},
	}
	var sown, compare, trays, reviews *yaml.Node
	ruleMeasured := false
	at := r.Mapping(root, "the plan", map[string]func(*yaml.Node){
		"title":              func(n *yaml.Node) { p.Title, _ = r.Label(n, "title", 100) },
		"crop":               func(n *yaml.Node) { p.Crop, _ = r.Label(n, "crop", 100) },
		"sown":               func(n *yaml.Node) { sown = n },
		"zone":               func(n *yaml.Node) { p.Zone = r.zone(n) },
		"tray":               func(n *yaml.Node) { p.Tray = r.trayShape(n) },
		"card":               func(n *yaml.Node) { p.Card, ruleMeasured = r.card(n) },
		"limits":             func(n *yaml.Node) { p.Limits = r.limits(n) },
		"volume_ml_per_tray": func(n *yaml.Node) { p.Volume.MLPerTray, _ = r.Number(n, "volume_ml_per_tray", "mL", 1, 20000) },
		"treatments":         func(n *yaml.Node) { p.Treatments, compare = r.treatments(n), n },
		"trays":              func(n *yaml.Node) { p.Trays, trays = r.trays(n), n },
		"places_seed":        func(n *yaml.Node) { p.PlacesSeed, _ = r.Whole(n, "places_seed", 1, MaxSeed) },
		"feeding_days":       func(n *yaml.Node) { p.FeedDays = r.days(n, "feeding_days") },
		"review_days":        func(n *yaml.Node) { p.ReviewDays, reviews = r.days(n, "review_days"), n },
		"main_question":      func(n *yaml.Node) { p.MainQuestion = r.question(n) },
		"data_licence":       func(n *yaml.Node) { p.DataLicence, _ = r.Label(n, "data_licence", 60) },
	})
	if root.Kind != yaml.MappingNode {
		return p
	}
	for _, need := range [][2]string{
		{"title", "a short title for the report"},
		{"sown", "the sowing date as year-month-day, such as 2026-03-02"},
		{"tray", "rows, columns and sizes of the trays"},
		{"treatments", "the treatments and what they get"},
		{"trays", "which tray gets which treatment"},
	} {
		if at[need[0]] == nil {
			r.Add(finding.Error, root.Line, 0, "the plan is missing "+need[0], "add "+need[0]+": "+need[1])
		}
	}
	if sown != nil {
		p.Sown = r.date(sown, p.Zone)
	}
	if at["zone"] == nil {
		r.Add(finding.Note, at.Line("sown", root), 0, "the plan has no time zone, so this computer’s ("+p.Zone.String()+") is used",
			"add a line such as `zone: Europe/Lisbon`, so that every computer assigns photos to the same day")
	}
	if !ruleMeasured {
		r.Warn(at.Line("card", root), "measure the 100 mm of the printed ruler with a steel rule and enter the result as rule_mm",
			"the printed card has not been measured, and printers can be off by a few per cent, which makes every length wrong by as much")
	}
	if at["volume_ml_per_tray"] == nil {
		r.Warn(root.Line, "add volume_ml_per_tray, the mL of mix that each tray gets on a feeding day",
			"the plan does not say how much mix a tray gets, so amounts cannot be calculated")
	}
	if ml, plugs := p.Volume.MLPerTray, p.Tray.Rows*p.Tray.Columns; ml > 0 && ml < leastMLPerPlug*float64(plugs) {
		r.Warn(at.Line("volume_ml_per_tray", root), "enter the volume in mL, such as 1500 for 1.5 L",
			"a tray of %d plugs gets only %g mL of mix on a feeding day", plugs, ml)
	}
	if at["review_days"] == nil || reviews != nil && reviews.Kind == yaml.SequenceNode && len(reviews.Content) == 0 {
		r.Warn(at.Line("review_days", root), "add the days on which all trays are photographed", "the plan has no review days")
	}
	if tray := at["tray"]; tray != nil {
		r.leafHeightsOnReviews(p, tray)
	}
	r.checkQuestion(p)
	r.crossCheck(p, at, compare, trays)
	return p
}

// leastMLPerPlug is the least mix, in mL, that a plug is given without a warning: what litres entered as millilitres come to is far below.
const leastMLPerPlug = 0.5

// zone reads a time zone's name.
func (r *reader) zone(n *yaml.Node) *time.Location {
	name, ok := r.Text(n, "zone", 60)
	if !ok {
		return time.Local
	}
	// The tz database's names are matched by LoadLocation, which itself refuses "..", "/" and "\" at the start.
	zone, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		r.Fail(n, `write a name of the tz database, such as "Europe/Lisbon" or "America/Chicago"`, "unknown time zone %q", finding.Short(name))
		return time.Local
	}
	return zone
}

// date reads a day as year-month-day and returns its first moment in zone.
func (r *reader) date(n *yaml.Node, zone *time.Location) time.Time {
	const remedy = "write the day as year-month-day, such as 2026-03-02"
	day, err := time.Parse(time.DateOnly, n.Value)
	if n.Kind != yaml.ScalarNode || err != nil {
		words := yamlfile.Shape(n)
		if isoDay.MatchString(n.Value) && n.Kind == yaml.ScalarNode {
			words = finding.Short(n.Value) + ", which does not exist"
		}
		r.Fail(n, remedy, "sown must be a date, not %s", words)
		return time.Time{}
	}
	if day.Year() < 2000 || day.Year() > 2100 {
		r.Fail(n, remedy, "sown is in the year %d", day.Year())
	}
	return firstMoment(day.Year(), day.Month(), day.Day(), zone)
}

var isoDay = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

// days reads a list of days since sowing and returns them in order.
func (r *reader) days(n *yaml.Node, what string) []int {
	var days []int
	r.Items(n, what, func(item *yaml.Node) {
		if item.Kind == yaml.ScalarNode && item.ShortTag() == "!!timestamp" {
			r.Fail(item, "enter the number of days after sowing instead; sowing day is 0", "%s contains the date %s", what, finding.Short(item.Value))
			return
		}
		if v, err := yamlfile.WholeValue(item); err == nil && v < 0 {
			r.Fail(item, "count days from sowing, which is day 0", "%s has day %d, which is before sowing", what, v)
			return
		}
		day, ok := r.Whole(item, "a day in "+what, 0, lastDay)
		if ok && slices.Contains(days, day) {
			r.Fail(item, "list each day once", "%s has day %d twice", what, day)
			return
		}
		if ok {
			days = append(days, day)
		}
	})
	slices.Sort(days)
	return days
}

// trayShape reads the tray's rows, columns and sizes, and checks that its plugs have room.
func (r *reader) trayShape(n *yaml.Node) TrayShape {
	t := TrayShape{LeafHeightMMDays: map[int]float64{}}
	before := len(r.Found)
	length := func(to *float64, what string, least, most float64) func(*yaml.Node) {
		return func(n *yaml.Node) { *to, _ = r.Number(n, what, "mm", least, most) }
	}
	at := r.Mapping(n, "tray", map[string]func(*yaml.Node){
		"rows":                  func(n *yaml.Node) { t.Rows, _ = r.Whole(n, "rows", 1, 26) }, // a row is one letter
		"columns":               func(n *yaml.Node) { t.Columns, _ = r.Whole(n, "columns", 1, 99) },
		"length_mm":             length(&t.LengthMM, "length_mm", 20, 3000),
		"width_mm":              length(&t.WidthMM, "width_mm", 20, 3000),
		"pitch_mm":              length(&t.PitchMM, "pitch_mm", 5, 500),
		"plug_bottom_mm":        length(&t.PlugBottomMM, "plug_bottom_mm", 2, 500),
		"leaf_height_mm":        length(&t.LeafHeightMM, "leaf_height_mm", leastLeafMM, mostLeafMM),
		"leaf_height_mm_on_day": func(n *yaml.Node) { r.leafHeights(n, t.LeafHeightMMDays) },
		"first_plug_mm":         func(n *yaml.Node) { t.FirstU, t.FirstV = r.firstPlug(n) },
	})
	if n.Kind != yaml.MappingNode {
		return t
	}
	for _, need := range []string{"rows", "columns", "length_mm", "width_mm", "pitch_mm"} {
		if at[need] == nil {
			r.Fail(n, "add "+need+" to tray", "tray is missing %s", need)
		}
	}
	if len(r.Found) > before {
		return t
	}
	if at["plug_bottom_mm"] == nil {
		t.PlugBottomMM = defaultBottomOfPitch * t.PitchMM
	}
	if at["first_plug_mm"] == nil { // the plugs sit in the tray's middle
		t.FirstU = (t.LengthMM - float64(t.Columns-1)*t.PitchMM) / 2
		t.FirstV = (t.WidthMM - float64(t.Rows-1)*t.PitchMM) / 2
	}
	if at["leaf_height_mm"] == nil {
		r.Add(finding.Note, n.Line, 0, "leaf_height_mm is missing, so leaves are measured as if they were level with the card",
			"enter the height of the leaves above the card in mm; leaves closer to the camera look larger")
	}
	r.room(t, at, n)
	return t
}

// Leaves are from a little below the tray's rim, in a deep plug, to as high as a camera can still be above them.
const (
	leastLeafMM = -60.0
	mostLeafMM  = 600.0
)

// firstPlug reads the centre of plug A1 as [u, v].
func (r *reader) firstPlug(n *yaml.Node) (u, v float64) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		is := yamlfile.Shape(n)
		if n.Kind == yaml.SequenceNode {
			is = fmt.Sprintf("a list of %d", len(n.Content))
		}
		r.Fail(n, "write [u, v], the distance in mm from the A1 corner to the middle of plug A1, along the long side and along the short side",
			"first_plug_mm must be a list of two numbers, not %s", is)
		return 0, 0
	}
	u, _ = r.Number(n.Content[0], "first_plug_mm’s u", "mm", 0, 3000)
	v, _ = r.Number(n.Content[1], "first_plug_mm’s v", "mm", 0, 3000)
	return u, v
}

// leafHeights reads `day: mm` pairs into heights.
func (r *reader) leafHeights(n *yaml.Node, heights map[int]float64) {
	r.Pairs(n, "leaf_height_mm_on_day", func(key, value *yaml.Node) {
		day, ok := r.Whole(key, "a day in leaf_height_mm_on_day", 0, lastDay)
		mm, ok2 := r.Number(value, "the leaves’ height", "mm", leastLeafMM, mostLeafMM)
		if !ok || !ok2 {
			return
		}
		if _, twice := heights[day]; twice { // 7 and 07 are two keys and one day
			r.Fail(key, "keep one of the two", "leaf_height_mm_on_day has day %d twice", day)
			return
		}
		heights[day] = mm
	})
}

// room checks that the plugs fit into the tray.
func (r *reader) room(t TrayShape, at yamlfile.Keys, n *yaml.Node) {
	if t.WidthMM > t.LengthMM {
		r.Add(finding.Error, at.Line("width_mm", n), 0, fmt.Sprintf("width_mm %g is more than length_mm %g", t.WidthMM, t.LengthMM),
			"the length is the long side, and columns are counted along it: swap the two values, and swap rows and columns too")
		return
	}
	if t.PlugBottomMM > t.PitchMM {
		r.Add(finding.Error, at.Line("plug_bottom_mm", n), 0,
			fmt.Sprintf("plug_bottom_mm %g is larger than the pitch of %g mm", t.PlugBottomMM, t.PitchMM), "measure both again")
		return
	}
	const slack = 0.01 // mm; sizes are written with a digit or two
	for _, side := range []struct {
		name, size, count string
		first, have       float64
		n                 int
	}{
		{"long", "length_mm", "columns", t.FirstU, t.LengthMM, t.Columns},
		{"short", "width_mm", "rows", t.FirstV, t.WidthMM, t.Rows},
	} {
		last := side.first + float64(side.n-1)*t.PitchMM + t.PlugBottomMM/2
		if side.first-t.PlugBottomMM/2 < -slack || last > side.have+slack {
			r.Add(finding.Error, at.Line(side.size, n), 0,
				fmt.Sprintf("%d %s of plugs would reach from %.4g to %.4g mm along the %s side, but the tray only reaches from 0 to %g",
					side.n, side.count, side.first-t.PlugBottomMM/2, last, side.name, side.have),
				"check "+side.size+", pitch_mm, first_plug_mm and "+side.count)
			continue
		}
		behind := side.have - side.first - float64(side.n-1)*t.PitchMM
		if math.Abs(side.first-behind) > mostOffMiddleMM {
			r.Warn(at.Line(side.size, n), "check "+side.size+", first_plug_mm and "+side.count+"; if your tray really is like this, change nothing",
				"along the %s side, the first plugs are %.4g mm from the end of the tray but the last ones %.4g mm; most trays are the same at both ends", side.name, side.first, behind)
		}
	}
}

// mostOffMiddleMM is how unlike a tray's two ends may be, twice what its plugs lie off its middle: three lengths are measured, each to a mm or two.
const mostOffMiddleMM = 6.0

// card reads what is known of the printed card, and whether it was measured.
func (r *reader) card(n *yaml.Node) (c Card, measured bool) {
	c = Card{unmeasuredRuleMM, unmeasuredRuleU}
	if yamlfile.IsNull(n) { // all of it left open, as in the template
		return c, false
	}
	at := r.Mapping(n, "card", map[string]func(*yaml.Node){
		"rule_mm": func(n *yaml.Node) {
			if yamlfile.IsNull(n) {
				return
			}
			measured = true // and told where it cannot be
			if v, ok := r.Number(n, "rule_mm", "mm", 90, 110); ok {
				c.RuleMM = v
			}
		},
		"rule_u_mm": func(n *yaml.Node) { c.RuleU, _ = r.Number(n, "rule_u_mm", "mm", 0.01, 10) },
	})
	if measured && at["rule_u_mm"] == nil {
		c.RuleU = defaultRuleU
	}
	if !measured && at["rule_u_mm"] != nil {
		r.Warn(at["rule_u_mm"].Line, "add rule_mm", "rule_u_mm is ignored because rule_mm is missing")
		c.RuleU = unmeasuredRuleU
	}
	return c, measured
}

// limits reads what counts as yellow.
func (r *reader) limits(n *yaml.Node) Limits {
	l := Limits{defaultChlorosisHueDeg, defaultChlorosisChroma}
	set := func(to *float64, what, unit string, least, most float64) func(*yaml.Node) {
		return func(n *yaml.Node) {
			if v, ok := r.Number(n, what, unit, least, most); ok {
				*to = v
			}
		}
	}
	r.Mapping(n, "limits", map[string]func(*yaml.Node){
		// Yellow is near 90° and pure green near 136° of CIELAB hue: a limit outside 60° to 150° means something else.
		"chlorosis_hue_deg": set(&l.ChlorosisHueDeg, "chlorosis_hue_deg", "degrees", 60, 150),
		"chlorosis_chroma":  set(&l.ChlorosisChroma, "chlorosis_chroma", "", 0, 100),
	})
	return l
}

// trays reads the list of trays.
func (r *reader) trays(n *yaml.Node) []Tray {
	var trays []Tray
	numbers, places, crossings := map[int]int{}, map[int]int{}, map[[2]int]int{}
	r.Items(n, "trays", func(item *yaml.Node) {
		t := Tray{Line: item.Line}
		at := r.Mapping(item, "a tray", map[string]func(*yaml.Node){
			"tray":      func(n *yaml.Node) { t.Number, _ = r.Whole(n, "a tray’s number", 1, MaxTray) },
			"treatment": func(n *yaml.Node) { t.Treatment, _ = r.Text(n, "a tray’s treatment", 60) },
			"position":  func(n *yaml.Node) { t.Position, _ = r.Whole(n, "a tray’s position", 1, 1000) },
			"block":     func(n *yaml.Node) { t.Block, _ = r.Whole(n, "a tray’s block", 1, 240) },
			"row":       func(n *yaml.Node) { t.Row, _ = r.Whole(n, "a tray’s row on the bench", 1, 240) },
			"column":    func(n *yaml.Node) { t.Column, _ = r.Whole(n, "a tray’s column on the bench", 1, 240) },
		})
		if item.Kind != yaml.MappingNode {
			return
		}
		for _, need := range []string{"tray", "treatment"} {
			if at[need] == nil {
				r.Fail(item, "write {tray: 7, treatment: water only, position: 3}", "a tray is missing %s", map[string]string{"tray": "its number", "treatment": "a treatment"}[need])
			}
		}
		if line := numbers[t.Number]; t.Number > 0 && line > 0 {
			r.Fail(at["tray"], "give each tray its own number", "tray %d is listed twice, first on line %d", t.Number, line)
			return
		}
		if line := places[t.Position]; t.Position > 0 && line > 0 {
			r.Fail(at["position"], "give each tray its own position on the bench", "position %d is used twice, first on line %d", t.Position, line)
		}
		crossing := [2]int{t.Row, t.Column}
		if line := crossings[crossing]; t.Row > 0 && t.Column > 0 && line > 0 {
			r.Fail(at["column"], "give each tray its own position on the bench", "row %d, column %d of the bench is used twice, first on line %d", t.Row, t.Column, line)
		}
		numbers[t.Number], places[t.Position], crossings[crossing] = item.Line, item.Line, item.Line
		trays = append(trays, t)
	})
	if n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.Fail(n, "write lines such as - {tray: 1, treatment: water only, position: 3}", "the list of trays is empty")
	}
	return trays
}
