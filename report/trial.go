package report

import (
	"slices"
	"strings"
	"time"

	"traygauge/measure/checks"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Trial is all that a trial's photos gave, in the order in which it is reported. Make one with Collect.
type Trial struct {
	Plan   *plan.Plan
	Plugs  []PlugRow            // every plug of every usable photo: by day, tray, view, photo, then reading order
	Photos []TrayRow            // every usable photo
	Trays  []TrayRow            // one a tray, day and view: the photos that count
	Days   []trayfigure.TrayDay // one a tray and day: the figures that treatments are compared by
	Unused []reading.Reading    // photos that could not be used; their concerns say why

	Corrections []correct.Correction // those that count for the trial's photos, in the order in which they were made
	Public      bool                 // for everybody: times are to the day; see CollectPublic
	Blind       string               // whether the photos were reviewed blind, as blind.Words says it; "" where nothing was
}

// Shot is what a row knows of its photo.
type Shot struct {
	Photo     string
	file      string    // its path below photos/ where Photo is not that; see CollectPublic
	toTheDay  bool      // of Taken only the day is for everybody
	SHA256    string    // of the photo's file
	Taken     time.Time // zero when not known
	Day       int       // since sowing; means nothing when Taken is zero
	Tray      int
	Treatment string // "" for a tray that the plan does not have
	View      reading.View
}

// PlugRow is one plug in one photo.
type PlugRow struct {
	Shot
	reading.Plug
}

// TrayRow sums up one tray on one day in one view. Plugs in a tray are no replicates: the spread describes the plugs, not
// how well the treatment's effect is known.
type TrayRow struct {
	Shot
	Others []string // photos of the same tray, day and view that were left aside
	Spare  bool     // this photo is one of those

	Plugs, Planted, Empty, Hidden, Excluded int

	RootAreaMM2       Summary // over the plants that count in the tray's figure
	LeafAreaMM2       Summary
	CanopyCoverPct    reading.Number
	PxPerMM, TiltDeg  reading.Number
	Concerns          []reading.Concern
	Version, Settings string // of the reading, for the method sheet
}

// NoPlant flags a plug of the roots in which no plant was seen from above, so that it counts in no figure.
const NoPlant = "no plant visible from above"

// sparePhoto flags the plugs of a photo that was left aside because another one of the same tray, day and view was used.
const sparePhoto = "spare photo"

// Collect sorts readings into a trial. A tray photographed twice in one view on one day is summed up from the photo
// that goes first by reading.BetterFirst; both keep their plugs, the other one's flagged with SparePhoto.
func Collect(p *plan.Plan, readings []reading.Reading) *Trial {
	return collect(p, checks.Together(p.InSomeZone(), readings))
}

// collect is Collect of readings that have the doubts which only all together raise.
func collect(p *plan.Plan, readings []reading.Reading) *Trial {
	t := &Trial{Plan: p.InSomeZone()}
	t.Days = trayfigure.TrayDays(t.Plan, readings)
	byTray := map[[2]int]trayfigure.TrayDay{}
	for _, d := range t.Days {
		byTray[[2]int{d.Day, d.Tray}] = d
	}
	var usable []reading.Reading
	for _, r := range readings {
		t.Corrections = append(t.Corrections, r.Corrections...)
		if !r.Usable() {
			t.Unused = append(t.Unused, r)
			continue
		}
		usable = append(usable, r)
	}
	for _, shots := range reading.ByOccasion(t.Plan, usable) {
		day := byTray[[2]int{t.shot(shots[0]).Day, shots[0].Tray}]
		if shots[0].Taken.IsZero() {
			day = trayfigure.TrayDay{}
		}
		for i, r := range shots {
			row := t.sumUp(r, day)
			if row.Spare = i > 0; !row.Spare {
				for _, other := range shots[1:] {
					row.Others = append(row.Others, other.Photo)
				}
				t.Trays = append(t.Trays, row)
			}
			t.Photos = append(t.Photos, row)
			t.addPlugs(r, row.Spare, day)
		}
	}
	slices.SortFunc(t.Photos, func(a, b TrayRow) int { return compareShots(a.Shot, b.Shot) })
	slices.SortFunc(t.Trays, func(a, b TrayRow) int { return compareShots(a.Shot, b.Shot) })
	slices.SortStableFunc(t.Plugs, ComparePlugs)
	slices.SortFunc(t.Corrections, func(a, b correct.Correction) int { return a.ID - b.ID })
	slices.SortFunc(t.Unused, func(a, b reading.Reading) int { return strings.Compare(a.Photo, b.Photo) })
	return t
}

func (t *Trial) shot(r reading.Reading) Shot {
	s := Shot{Photo: r.Photo, SHA256: r.SHA256, Tray: r.Tray, Treatment: t.Plan.TreatmentOf(r.Tray), View: r.View}
	if !r.Taken.IsZero() {
		s.Taken, s.Day = r.Taken.In(t.Plan.Zone), t.Plan.DayOf(r.Taken)
	}
	return s
}

func (t *Trial) addPlugs(r reading.Reading, spare bool, day trayfigure.TrayDay) {
	shot := t.shot(r)
	for _, p := range r.Plugs {
		for _, c := range r.Concerns {
			if c.Bias != "" { // a doubt that pushes every figure of the photo one way
				p.Flags = append(slices.Clone(p.Flags), string(c.Kind))
			}
		}
		if spare {
			p.Flags = append(slices.Clone(p.Flags), sparePhoto)
		}
		if r.View == reading.Roots && p.State == reading.Planted && day.NoPlant(p.Name) {
			p.Flags = append(slices.Clone(p.Flags), NoPlant)
		}
		t.Plugs = append(t.Plugs, PlugRow{shot, p})
	}
}

// sumUp makes the row of one of a tray's photos. The figures are the tray's, so a spare photo has none.
func (t *Trial) sumUp(r reading.Reading, day trayfigure.TrayDay) TrayRow {
	row := TrayRow{
		Shot: t.shot(r), Plugs: len(r.Plugs), CanopyCoverPct: r.CanopyCoverPct, PxPerMM: r.PxPerMM, TiltDeg: r.TiltDeg,
		Concerns: r.Concerns, Version: r.Version, Settings: r.Settings,
	}
	if r.View != reading.Shoots {
		row.CanopyCoverPct = reading.Missing // a reading of roots may leave its zero value there
	}
	if c := r.ExcludedBy(); c != nil {
		row.Concerns = append([]reading.Concern{{Kind: reading.ExcludedPhoto, Words: excludedWords(*c)}}, row.Concerns...)
	}
	for _, p := range r.Plugs {
		switch p.State {
		case reading.Planted:
			row.Planted++
		case reading.Empty:
			row.Empty++
		case reading.Hidden:
			row.Hidden++
		case reading.Excluded:
			row.Excluded++
		}
	}
	root, leaf := summaryOf(outcome.RootArea, day), summaryOf(outcome.LeafArea, day)
	row.RootAreaMM2, row.LeafAreaMM2 = Summarise(nil), Summarise(nil)
	if r.View == reading.Roots {
		row.RootAreaMM2 = root
	} else {
		row.LeafAreaMM2 = leaf
	}
	return row
}

// summaryOf describes the plants behind a tray's figure; its mean is that figure.
func summaryOf(quantity string, d trayfigure.TrayDay) Summary {
	s := Summarise(d.Values(quantity))
	if a, ok := d.Amounts[quantity]; ok {
		s.Mean, s.N = a.Value, a.Plugs
	}
	return s
}

func excludedWords(c correct.Correction) string {
	if c.Who == "" {
		return c.Why
	}
	return "by " + c.Who + ", " + c.Why
}
