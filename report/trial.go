package report

import (
	"slices"
	"strings"
	"time"

	"traygauge/measure"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
)

// Trial is all that a trial's photos gave, in the order in which it is reported. Make one with Collect.
type Trial struct {
	Plan   *plan.Plan
	Plugs  []PlugRow         // every plug of every usable photo: by day, tray, view, photo, then reading order
	Trays  []TrayRow         // one a tray, day and view
	Unused []measure.Reading // photos that gave nothing to report; their concerns say why

	Corrections []correct.Correction // those that stand for the trial's photos, in the order in which they were made
	Blind       string               // whether the photos were looked through blind, as blind.Words says it; "" where nothing was
}

// Shot is what a row knows of its photo.
type Shot struct {
	Photo     string
	file      string    // its path below photos/ where Photo is not that; see CollectPublic
	SHA256    string    // of the photo's file
	Taken     time.Time // zero when not known
	Day       int       // since sowing; means nothing when Taken is zero
	Tray      int
	Treatment string // "" for a tray that the plan does not have
	View      string // "roots" or "shoots"
}

// PlugRow is one plug in one photo.
type PlugRow struct {
	Shot
	measure.Plug
}

// TrayRow sums up one tray on one day in one view. Plugs in a tray are no replicates: the spread describes the plugs, not
// how well the treatment's effect is known.
type TrayRow struct {
	Shot
	Others []string // photos of the same tray, day and view that were left aside

	Plugs, Planted, Empty, Hidden, Excluded int

	RootAreaMM2       Summary // over planted plugs with a value
	LeafAreaMM2       Summary
	CanopyCoverPct    measure.Number
	MedianChlorotic   measure.Number // %
	MedianBrowning    measure.Number // %
	PxPerMM, TiltDeg  measure.Number
	Concerns          []measure.Concern
	Version, Settings string // of the reading, for the method sheet
}

// SparePhoto flags the plugs of a photo that was left aside because another one of the same tray, day and view was used.
const SparePhoto = "spare photo"

// Collect sorts readings into a trial. A tray photographed twice in one view on one day is summed up from the photo
// that goes first by measure.BetterFirst; both keep their plugs, the other one's flagged with SparePhoto.
func Collect(p *plan.Plan, readings []measure.Reading) *Trial {
	t := &Trial{Plan: inSomeZone(p)}
	occasions := map[occasion][]measure.Reading{}
	for _, r := range measure.Together(t.Plan, readings) {
		t.Corrections = append(t.Corrections, r.Corrections...)
		if !r.Usable() {
			t.Unused = append(t.Unused, r)
			continue
		}
		key := occasionOf(t.shot(r))
		occasions[key] = append(occasions[key], r)
	}
	for _, shots := range occasions {
		slices.SortFunc(shots, measure.BetterFirst)
		t.Trays = append(t.Trays, t.sumUp(shots))
		for i, r := range shots {
			t.addPlugs(r, i > 0)
		}
	}
	slices.SortFunc(t.Trays, func(a, b TrayRow) int { return compareShots(a.Shot, b.Shot) })
	slices.SortStableFunc(t.Plugs, comparePlugs)
	slices.SortFunc(t.Corrections, func(a, b correct.Correction) int { return a.ID - b.ID })
	slices.SortFunc(t.Unused, func(a, b measure.Reading) int { return strings.Compare(a.Photo, b.Photo) })
	return t
}

// occasion is what one photo is expected for: a tray on a day in a view.
type occasion struct {
	undated   bool
	day, tray int
	view      string
}

func occasionOf(s Shot) occasion { return occasion{s.Taken.IsZero(), s.Day, s.Tray, s.View} }

// inSomeZone returns p, or a copy in UTC when p states no zone.
func inSomeZone(p *plan.Plan) *plan.Plan {
	if p.Zone != nil {
		return p
	}
	q := *p
	q.Zone = time.UTC
	return &q
}

func (t *Trial) shot(r measure.Reading) Shot {
	s := Shot{Photo: r.Photo, SHA256: r.SHA256, Tray: r.Tray, Treatment: t.Plan.TreatmentOf(r.Tray), View: r.View}
	if !r.Taken.IsZero() {
		s.Taken, s.Day = r.Taken.In(t.Plan.Zone), t.Plan.DayOf(r.Taken)
	}
	return s
}

func (t *Trial) addPlugs(r measure.Reading, spare bool) {
	shot := t.shot(r)
	for _, p := range r.Plugs {
		if spare {
			p.Flags = append(slices.Clone(p.Flags), SparePhoto)
		}
		t.Plugs = append(t.Plugs, PlugRow{shot, p})
	}
}

// sumUp makes the tray's row from the first of its photos.
func (t *Trial) sumUp(shots []measure.Reading) TrayRow {
	r := shots[0]
	row := TrayRow{
		Shot: t.shot(r), Plugs: len(r.Plugs), CanopyCoverPct: r.CanopyCoverPct, PxPerMM: r.PxPerMM, TiltDeg: r.TiltDeg,
		Concerns: r.Concerns, Version: r.Version, Settings: r.Settings,
	}
	if r.View != "shoots" {
		row.CanopyCoverPct = measure.Missing // a reading of roots may leave its zero value there
	}
	if c := r.ExcludedBy(); c != nil {
		row.Concerns = append([]measure.Concern{{Kind: "excluded", Words: excludedWords(*c)}}, row.Concerns...)
	}
	for _, other := range shots[1:] {
		row.Others = append(row.Others, other.Photo)
	}
	var root, leaf, yellow, brown []float64
	for _, p := range r.Plugs {
		switch p.State {
		case measure.Planted:
			row.Planted++
			root, leaf = appendKnown(root, p.RootAreaMM2), appendKnown(leaf, p.LeafAreaMM2)
			yellow, brown = appendKnown(yellow, p.ChloroticPct), appendKnown(brown, p.RootBrowningPct)
		case measure.Empty:
			row.Empty++
		case measure.Hidden:
			row.Hidden++
		case measure.Excluded:
			row.Excluded++
		}
	}
	row.RootAreaMM2, row.LeafAreaMM2 = Summarise(root), Summarise(leaf)
	row.MedianChlorotic, row.MedianBrowning = Summarise(yellow).Median, Summarise(brown).Median
	return row
}

func excludedWords(c correct.Correction) string {
	if c.Who == "" {
		return c.Why
	}
	return "by " + c.Who + ", " + c.Why
}

func appendKnown(values []float64, n measure.Number) []float64 {
	if n.Known() {
		values = append(values, float64(n))
	}
	return values
}
