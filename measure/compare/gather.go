package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"traygauge/measure"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
)

// occasion is what one photo is expected for.
type occasion struct {
	day, tray int
	view      string
}

// trial is what the readings hold, one photo an occasion.
type trial struct {
	plan   *plan.Plan
	days   []int // with a usable photo, in order
	photos map[occasion]measure.Reading
	limits []string // what was found on the way
	memo   memo
	kept
}

// kept is what was worked out once and is asked for again by many comparisons.
type kept struct {
	bares   map[occasion]map[string]bool // see bare
	seen    map[occasion][]measure.Plug  // see plants
	figures map[figureKey]figureFound    // see figureOf
	commons map[figureKey]float64        // see smallestRelU; of a tray 0: the day's smallest
}

type figureKey struct {
	quantity  string
	day, tray int
}

type figureFound struct {
	figure figure
	ok     bool
}

// gather keeps the photo to use of each tray, day and view. What cannot be placed in the trial is counted among the limits.
func gather(p *plan.Plan, readings []measure.Reading) *trial {
	t := &trial{plan: inSomeZone(p), photos: map[occasion]measure.Reading{}, memo: memo{},
		kept: kept{map[occasion]map[string]bool{}, map[occasion][]measure.Plug{}, map[figureKey]figureFound{}, map[figureKey]float64{}}}
	all := map[occasion][]measure.Reading{}
	unusable, undated, settings := 0, 0, map[string]bool{}
	strangers := map[int]bool{}
	for _, r := range readings {
		switch {
		case !r.Usable():
			unusable++
		case r.Taken.IsZero():
			undated++
		default:
			at := occasion{t.plan.DayOf(r.Taken), r.Tray, r.View}
			all[at] = append(all[at], r)
			if t.plan.TreatmentOf(r.Tray) == "" {
				strangers[r.Tray] = true
				continue
			}
			settings[r.Version+" "+r.Settings] = true
		}
	}
	for at, photos := range all {
		slices.SortFunc(photos, measure.BetterFirst)
		t.photos[at] = photos[0]
		if !strangers[at.tray] && !slices.Contains(t.days, at.day) {
			t.days = append(t.days, at.day)
		}
	}
	slices.Sort(t.days)
	if unusable > 0 {
		t.limit("%s gave nothing to compare", outcome.Counted(unusable, "photo", "photos"))
	}
	if undated > 0 {
		t.limit("%s without a date left out", outcome.Counted(undated, "photo", "photos"))
	}
	if len(strangers) > 0 {
		t.limit("%s not in the plan and left out", outcome.TrayList(slices.Sorted(maps.Keys(strangers)), "is", "are"))
	}
	if len(settings) > 1 {
		t.limit("photos were measured with different settings or versions of the program: run `traygauge measure` again, then compare")
	}
	return t
}

func (t *trial) limit(format string, args ...any) {
	t.limits = append(t.limits, fmt.Sprintf(format, args...))
}

func inSomeZone(p *plan.Plan) *plan.Plan {
	if p.Zone != nil {
		return p
	}
	q := *p
	q.Zone = time.UTC
	return &q
}

// figure is one tray's figure in one quantity on one day: the mean over its plants, or what is derived from it.
type figure struct {
	tray    int
	value   float64
	plugs   int     // behind it
	plugVar float64 // variance of value that comes from its being a mean over so many plugs; NaN with fewer than two
	u       float64 // standard uncertainty of value from measuring, without the printed scale, which all trays share; NaN: not known
	common  float64 // the part of u that all plugs of the photo have in common, which their scatter does not show; NaN: not known
	scaleU  float64 // standard uncertainty of value from the printed scale
}

// within returns the variance of a tray's figure that its own plugs and its photo account for: no two trays treated alike can be
// expected to agree better.
func (f figure) within() float64 {
	if math.IsNaN(f.common) {
		return f.plugVar
	}
	return f.plugVar + float64(f.common*f.common)
}

// figureOf returns q's figure of a tray on a day; ok is false when nothing was measured.
func (t *trial) figureOf(q quantity, day, tray int) (figure, bool) {
	key := figureKey{q.name, day, tray}
	found, ok := t.figures[key]
	if !ok {
		found.figure, found.ok = t.workOut(q, day, tray)
		t.figures[key] = found
	}
	return found.figure, found.ok
}

func (t *trial) workOut(q quantity, day, tray int) (f figure, ok bool) {
	r, ok := t.photos[occasion{day, tray, q.view}]
	if !ok {
		return figure{}, false
	}
	if q.tray != nil {
		v := q.tray(r)
		return figure{tray: tray, value: float64(v), plugs: planted(r), plugVar: nan, u: nan, common: nan}, v.Known()
	}
	xs := sortedValues(t.plugs(q, day, tray))
	if len(xs) == 0 {
		return figure{}, false
	}
	share := t.shareSeen(q, day, tray, len(xs))
	m := mean(xs)
	u, common := t.measuringU(q, day, tray)
	n := len(xs) + len(t.covered(q, day, tray))
	return figure{tray: tray, value: m * share, plugs: n, plugVar: share * share * variance(xs) / float64(len(xs)),
		u: share * u, common: share * common, scaleU: share * m * t.scaleRelU(q)}, true
}

// covered names the plants that cannot be seen because neighbours lie over them: for the leaf area alone, because what is seen of the
// leaves above them was given to the neighbours. A plug that was empty when it was last in view is no plant.
func (t *trial) covered(q quantity, day, tray int) []string {
	if q.name != LeafArea {
		return nil
	}
	var names []string
	for _, p := range t.photos[occasion{day, tray, q.view}].Plugs {
		if p.State == measure.Hidden && slices.Contains(p.Flags, measure.UnderNeighbours) && !t.bare(day, tray)[p.Name] {
			names = append(names, p.Name)
		}
	}
	return names
}

// shareSeen is how many of a tray's plants are in view, n, of all that share the area measured.
func (t *trial) shareSeen(q quantity, day, tray, n int) float64 {
	return float64(n) / float64(n+len(t.covered(q, day, tray)))
}

// plugs returns the values of a tray's plants on a day by the plugs' names.
func (t *trial) plugs(q quantity, day, tray int) map[string]float64 {
	values := map[string]float64{}
	for _, p := range t.plants(q.view, day, tray) {
		if v, _ := q.plug(p); v.Known() {
			values[p.Name] = float64(v)
		}
	}
	return values
}

// plants returns the plugs of a tray that count on a day in a view. Empty, hidden and excluded plugs are left out, and from
// below also those in which no plant is seen from above.
func (t *trial) plants(view string, day, tray int) []measure.Plug {
	at := occasion{day, tray, view}
	if plants, ok := t.seen[at]; ok {
		return plants
	}
	var bare map[string]bool
	if view == "roots" {
		bare = t.bare(day, tray)
	}
	var plants []measure.Plug
	for _, p := range t.photos[occasion{day, tray, view}].Plugs {
		if p.State == measure.Planted && !bare[p.Name] {
			plants = append(plants, p)
		}
	}
	t.seen[at] = plants
	return plants
}

// bare returns the plugs in which no plant was seen from above, on that day or else on the nearest day on which the plug was in
// view. A seed that did not come up has no roots to be compared.
func (t *trial) bare(day, tray int) map[string]bool {
	if bare, ok := t.bares[occasion{day: day, tray: tray}]; ok {
		return bare
	}
	bare, away := map[string]bool{}, map[string]int{}
	t.bares[occasion{day: day, tray: tray}] = bare
	for _, d := range t.days {
		for _, p := range t.photos[occasion{d, tray, "shoots"}].Plugs {
			if p.State != measure.Empty && p.State != measure.Planted {
				continue
			}
			if known, ok := away[p.Name]; !ok || abs(d-day) < known {
				bare[p.Name], away[p.Name] = p.State == measure.Empty, abs(d-day)
			}
		}
	}
	return bare
}

func planted(r measure.Reading) int {
	n := 0
	for _, p := range r.Plugs {
		if p.State == measure.Planted {
			n++
		}
	}
	return n
}
