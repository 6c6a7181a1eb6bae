// Package trayfigure calculates one figure per tray and quantity from the plants of the tray. Treatments are compared by these figures.
//
//	in    the plan and readings
//	out   the figures of a tray with their uncertainty from plugs and error bars, ratios, growth rates, and the stand
//
// It must not depend on which treatments are compared or by which test.
package trayfigure

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// Trial is what the readings hold, one photo an occasion.
type Trial struct {
	Plan   *plan.Plan
	Days   []int // with a usable photo, in order
	Photos map[reading.Occasion]reading.Reading
	Limits []string // what was found on the way
	kept
}

// kept is what was calculated once and is asked for again by many comparisons.
type kept struct {
	bares   map[reading.Occasion]map[string]bool // see bare
	seen    map[reading.Occasion][]reading.Plug  // see plants
	figures map[figureKey]figureFound            // see FigureOf
	commons map[figureKey]float64                // see smallestRelU; of a tray 0: the day's smallest
}

type figureKey struct {
	quantity  string
	day, tray int
}

type figureFound struct {
	figure Figure
	ok     bool
}

// Collect keeps the photo to use of each tray, day and view. What cannot be placed in the trial is counted among the limits.
func Collect(p *plan.Plan, readings []reading.Reading) *Trial {
	t := &Trial{Plan: p.InSomeZone(), Photos: map[reading.Occasion]reading.Reading{},
		kept: kept{map[reading.Occasion]map[string]bool{}, map[reading.Occasion][]reading.Plug{}, map[figureKey]figureFound{}, map[figureKey]float64{}}}
	var dated []reading.Reading
	unusable, undated, settings := 0, 0, map[string]bool{}
	strangers := map[int]bool{}
	for _, r := range readings {
		switch {
		case !r.Usable():
			unusable++
		case r.Taken.IsZero():
			undated++
		default:
			dated = append(dated, r)
			if t.Plan.TreatmentOf(r.Tray) == "" {
				strangers[r.Tray] = true
				continue
			}
			settings[r.Version+" "+r.Settings] = true
		}
	}
	for at, photos := range reading.ByOccasion(t.Plan, dated) {
		t.Photos[at] = photos[0]
		if !strangers[at.Tray] && !slices.Contains(t.Days, at.Day) {
			t.Days = append(t.Days, at.Day)
		}
	}
	slices.Sort(t.Days)
	if unusable > 0 {
		t.limit("%s not used", wording.Counted(unusable, "photo", "photos"))
	}
	if undated > 0 {
		t.limit("%s without a date not used", wording.Counted(undated, "photo", "photos"))
	}
	if len(strangers) > 0 {
		t.limit("%s not in the plan and not used", wording.TraysDo(slices.Sorted(maps.Keys(strangers)), "is", "are"))
	}
	if len(settings) > 1 {
		t.limit("photos were measured with different settings or program versions: run `traygauge measure` again before you compare")
	}
	return t
}

func (t *Trial) limit(format string, args ...any) {
	t.Limits = append(t.Limits, fmt.Sprintf(format, args...))
}

// Figure is one tray's figure in one quantity on one day: the mean over its plants, or what is derived from it.
type Figure struct {
	Tray    int
	Value   float64
	Plugs   int     // behind it
	PlugVar float64 // variance of value that comes from its being a mean over so many plugs; NaN with fewer than two
	U       float64 // standard uncertainty of value from measuring, without the printed scale, which all trays share; NaN: not known
	Common  float64 // the part of u that all plugs of the photo have in common, which their scatter does not show; NaN: not known
	scaleU  float64 // standard uncertainty of value from the printed scale
	Faint   bool    // an amount too small to measure: it has no logarithm that means anything
}

// Within returns the variance of a tray's figure that its own plugs and its photo account for: no two trays treated alike can be
// expected to agree better.
func (f Figure) Within() float64 {
	if math.IsNaN(f.Common) {
		return f.PlugVar
	}
	return f.PlugVar + float64(f.Common*f.Common)
}

// FigureOf returns q's figure of a tray on a day; ok is false when nothing was measured.
func (t *Trial) FigureOf(q Quantity, day, tray int) (Figure, bool) {
	key := figureKey{q.Name, day, tray}
	found, ok := t.figures[key]
	if !ok {
		found.figure, found.ok = t.workOut(q, day, tray)
		t.figures[key] = found
	}
	return found.figure, found.ok
}

func (t *Trial) workOut(q Quantity, day, tray int) (f Figure, ok bool) {
	r, ok := t.Photos[reading.Occasion{Day: day, Tray: tray, View: q.View}]
	if !ok {
		return Figure{}, false
	}
	if q.tray != nil {
		v := q.tray(r)
		return Figure{Tray: tray, Value: float64(v), Plugs: r.Planted(), PlugVar: arithmetic.NaN, U: arithmetic.NaN, Common: arithmetic.NaN}, v.Known()
	}
	xs := arithmetic.SortedValues(t.Plugs(q, day, tray))
	if len(xs) == 0 {
		return Figure{}, false
	}
	share := t.shareSeen(q, day, tray, len(xs))
	m := arithmetic.Mean(xs)
	u, common := t.MeasuringU(q, day, tray)
	n := len(xs) + len(t.covered(q, day, tray))
	faint := q.Scale == outcome.Ratio && t.faint(q, day, tray)
	if least := m / detection; faint && !(common >= least) { // its plants' errors may all go one way
		if common = least; !(u >= least) {
			u = least
		}
	}
	return Figure{Tray: tray, Value: m * share, Plugs: n, PlugVar: share * share * arithmetic.Variance(xs) / float64(len(xs)),
		U: share * u, Common: share * common, scaleU: share * m * t.scaleRelU(q), Faint: faint}, true
}

// covered names the plants that cannot be seen because neighbours lie over them: for the leaf area alone, because what is seen of the
// leaves above them was given to the neighbours. A plug that was empty when it was last in view is no plant.
func (t *Trial) covered(q Quantity, day, tray int) []string {
	if q.Name != outcome.LeafArea {
		return nil
	}
	var names []string
	for _, p := range t.Photos[reading.Occasion{Day: day, Tray: tray, View: q.View}].Plugs {
		if p.State == reading.Hidden && slices.Contains(p.Flags, reading.UnderNeighbours) && !t.Bare(day, tray)[p.Name] {
			names = append(names, p.Name)
		}
	}
	return names
}

// shareSeen is how many of a tray's plants are in view, n, of all that share the area measured.
func (t *Trial) shareSeen(q Quantity, day, tray, n int) float64 {
	return float64(n) / float64(n+len(t.covered(q, day, tray)))
}

// Plugs returns the values of a tray's plants on a day by the plugs' names.
func (t *Trial) Plugs(q Quantity, day, tray int) map[string]float64 {
	values := map[string]float64{}
	for _, p := range t.plants(q.View, day, tray) {
		if v, _ := q.plug(p); v.Known() {
			values[p.Name] = float64(v)
		}
	}
	return values
}

// plants returns the plugs of a tray that count on a day in a view. Empty, hidden and excluded plugs are left out, and from
// below also those in which no plant is seen from above.
func (t *Trial) plants(view reading.View, day, tray int) []reading.Plug {
	at := reading.Occasion{Day: day, Tray: tray, View: view}
	if plants, ok := t.seen[at]; ok {
		return plants
	}
	var bare map[string]bool
	if view == reading.Roots {
		bare = t.Bare(day, tray)
	}
	var plants []reading.Plug
	for _, p := range t.Photos[reading.Occasion{Day: day, Tray: tray, View: view}].Plugs {
		if p.State == reading.Planted && !bare[p.Name] {
			plants = append(plants, p)
		}
	}
	t.seen[at] = plants
	return plants
}

// Bare returns the plugs in which no plant was seen from above, on that day or else on the nearest day on which the plug was in
// view. A seed that did not come up has no roots to be compared.
func (t *Trial) Bare(day, tray int) map[string]bool {
	if bare, ok := t.bares[reading.Occasion{Day: day, Tray: tray}]; ok {
		return bare
	}
	bare, away := map[string]bool{}, map[string]int{}
	t.bares[reading.Occasion{Day: day, Tray: tray}] = bare
	for _, d := range t.Days {
		for _, p := range t.Photos[reading.Occasion{Day: d, Tray: tray, View: reading.Shoots}].Plugs {
			if p.State != reading.Empty && p.State != reading.Planted {
				continue
			}
			if known, ok := away[p.Name]; !ok || arithmetic.Abs(d-day) < known {
				bare[p.Name], away[p.Name] = p.State == reading.Empty, arithmetic.Abs(d-day)
			}
		}
	}
	return bare
}

// ReviewBefore returns the last review day among the first n days with photos, the last of them where none is a review day, and
// -1 where there is none: a photo on a day between must not separate two reviews.
func (t *Trial) ReviewBefore(n int) int {
	if n < 0 { // a day on which nothing of the plan was photographed
		return -1
	}
	for i := n - 1; i >= 0; i-- {
		if slices.Contains(t.Plan.ReviewDays, t.Days[i]) {
			return t.Days[i]
		}
	}
	if n == 0 {
		return -1
	}
	return t.Days[n-1]
}

// before returns the review before a day with photos, -1 for none.
func (t *Trial) before(day int) int { return t.ReviewBefore(slices.Index(t.Days, day)) }

// StandOfTray counts a tray's plants from above and the plugs looked at. A plant under its neighbours counts as a plant. Other hidden
// plugs and excluded ones say nothing and are left out.
func (t *Trial) StandOfTray(day, tray int) (plants, plugs int) {
	for _, p := range t.Photos[reading.Occasion{Day: day, Tray: tray, View: reading.Shoots}].Plugs {
		switch p.State {
		case reading.Planted:
			plants, plugs = plants+1, plugs+1
		case reading.Empty:
			plugs++
		}
	}
	under := len(t.covered(QuantityCalled(outcome.LeafArea), day, tray))
	return plants + under, plugs + under
}
