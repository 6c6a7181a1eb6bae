// Package plugs chooses the plugs that represent a treatment in pictures (typical ones, not the best) and makes the pictures.
//
//	in    a report.Trial, its comparisons, and the trial's folder with photos and overlays
//	out   which plugs are shown; JPEGs within the page's budget of bytes, for the page and for the folder beside it, without anything but pixels
//
// It must not depend on the layout of the page or on the results of the trial.
package plugs

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
)

// Followed is the plug that stands for a treatment in pictures: the same one on every day and in both views.
type Followed struct {
	Tray int
	Name string
	At   map[Sight]report.PlugRow // where it was measured
}

// Sight is a view on a day.
type Sight struct {
	Day  int
	View reading.View
}

// Standing returns for each treatment of the plan the plug that stands for it on the days that are pictured; one without a name for none.
func Standing(t *report.Trial, r *outcome.Result) []Followed {
	days := Days(t, r)
	stand := make([]Followed, len(t.Plan.Treatments))
	for i, treatment := range t.Plan.Treatments {
		if len(days) > 0 {
			stand[i], _ = Follow(t, r, treatment.Name, days)
		}
	}
	return stand
}

// Follow returns the plug that stands for a treatment over the given days. Of its trays it is in the one whose medians are nearest to the
// middle of the treatment's on the last day; where that is undecided, as of two trays, in one that had no accident, then in the one with the
// most photos. Of that tray's plugs it is the one measured in most photos, and of these the one that strays least from its tray's
// median where it strays most: never the best one.
func Follow(t *report.Trial, r *outcome.Result, treatment string, days []int) (Followed, bool) {
	return follow(t, treatment, days, accidentsIn(r))
}

func follow(t *report.Trial, treatment string, days []int, accident []int) (f Followed, ok bool) {
	tray, ok := middleTray(t, treatment, days, accident)
	if !ok {
		return f, false
	}
	sizes, rows := map[Sight][]float64{}, map[string]map[Sight]report.PlugRow{}
	var names []string
	for _, p := range t.Plugs {
		if p.Tray != tray || !slices.Contains(days, p.Day) || !p.Counts() {
			continue
		}
		at := Sight{p.Day, p.View}
		sizes[at] = append(sizes[at], float64(report.SizeOf(p)))
		if p.Place == nil {
			continue
		}
		if rows[p.Name] == nil {
			rows[p.Name], names = map[Sight]report.PlugRow{}, append(names, p.Name)
		}
		rows[p.Name][at] = p
	}
	median := map[Sight]float64{}
	for at, of := range sizes {
		median[at] = float64(report.Summarise(of).Median)
	}
	strays := map[string]float64{}
	for _, name := range names {
		for at, p := range rows[name] {
			strays[name] = math.Max(strays[name], math.Abs(float64(report.SizeOf(p))-median[at])/math.Max(median[at], 1e-9))
		}
	}
	slices.SortStableFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(rows[b]), len(rows[a])), cmp.Compare(strays[a], strays[b]), report.ComparePlugNames(a, b))
	})
	if len(names) == 0 {
		return f, false
	}
	return Followed{Tray: tray, Name: names[0], At: rows[names[0]]}, true
}

// middleTray returns the tray that stands for a treatment.
func middleTray(t *report.Trial, treatment string, days, accident []int) (tray int, ok bool) {
	type candidate struct {
		tray, photos, accident int
		off                    float64
	}
	medians, byTray := map[reading.View][]float64{}, map[int]*candidate{}
	last := days[len(days)-1]
	var all []*candidate
	for _, r := range t.Trays {
		if r.Treatment != treatment || r.Taken.IsZero() || !slices.Contains(days, r.Day) || !medianIn(r).Known() {
			continue
		}
		if byTray[r.Tray] == nil {
			byTray[r.Tray] = &candidate{tray: r.Tray}
			if slices.Contains(accident, r.Tray) {
				byTray[r.Tray].accident = 1
			}
			all = append(all, byTray[r.Tray])
		}
		byTray[r.Tray].photos++
		if r.Day == last {
			medians[r.View] = append(medians[r.View], float64(medianIn(r)))
		}
	}
	for _, r := range t.Trays {
		if c := byTray[r.Tray]; c != nil && r.Day == last && medianIn(r).Known() && !r.Taken.IsZero() {
			middle := float64(report.Summarise(medians[r.View]).Median)
			c.off += math.Abs(float64(medianIn(r))-middle) / math.Max(middle, 1e-9)
		}
	}
	for _, c := range all {
		c.off = math.Round(c.off*1e6) / 1e6 // two trays are as far from their middle
	}
	if len(all) == 0 {
		return 0, false
	}
	slices.SortFunc(all, func(a, b *candidate) int {
		return cmp.Or(cmp.Compare(a.off, b.off), a.accident-b.accident, b.photos-a.photos, a.tray-b.tray)
	})
	return all[0].tray, true
}

// Days are the reviews that are shown in pictures: the last, and as many evenly before it, the first among them, as there are
// photos to spare.
func Days(t *report.Trial, r *outcome.Result) []int {
	var days []int
	for _, d := range r.Days {
		if slices.Contains(t.Plan.ReviewDays, d) || d == r.LastDay {
			days = append(days, d)
		}
	}
	if len(days) == 0 {
		return nil
	}
	most := min(mostPicturedDays, max(1, mostPicturedPhotos/(2*max(1, len(t.Plan.Treatments)))))
	if len(days) <= most {
		return days
	}
	var some []int
	for i := range most {
		some = append(some, days[len(days)-1-i*(len(days)-1)/max(1, most-1)])
	}
	slices.Sort(some)
	return slices.Compact(some)
}

// How many days and photos are shown in pictures: each photo has to be opened once more.
const (
	mostPicturedDays   = 5
	mostPicturedPhotos = 60
)

// accidentsIn lists the trays without which the question was answered again: they have an accident or an unusual feeding, or stand out.
func accidentsIn(r *outcome.Result) []int {
	var trays []int
	for _, w := range r.Without {
		trays = append(trays, w.Tray)
	}
	return trays
}

// SizeWords is a plug's area with its quantity.
func SizeWords(p report.PlugRow) string {
	quantity := outcome.LeafArea
	u := p.LeafAreaUMM2
	if p.View == reading.Roots {
		quantity, u = outcome.RootArea, p.RootAreaUMM2
	}
	return table.WithU(report.SizeOf(p), u) + " mm² " + quantity
}

// medianIn is the median of a tray's plants in what its photo shows.
func medianIn(r report.TrayRow) reading.Number {
	if r.View == reading.Roots {
		return r.RootAreaMM2.Median
	}
	return r.LeafAreaMM2.Median
}

// ViewOf is the view of the photo that a quantity rests on most.
func ViewOf(quantity string) reading.View {
	if strings.Contains(quantity, "root") {
		return reading.Roots
	}
	return reading.Shoots
}
