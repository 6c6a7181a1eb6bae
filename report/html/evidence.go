package html

import (
	"fmt"
	"html/template"
	"net/url"
	"path/filepath"
	"slices"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report"
	"traygauge/report/html/plugs"
)

// evidenceDay lists a day's photos with what each gave, so that every number leads back to its photo.
type evidenceDay struct {
	Day  int // below 0: photos without a date
	Last bool
	Rows []evidenceRow
}

type evidenceRow struct {
	ID, Treatment, View          string
	Tray                         int
	Stand, Plugs                 string // from above, how many plants there are; from below, how many plugs
	Root, Leaf, Yellow, Brown    string
	Photo, SHA256, Taken         string
	PhotoLink, OverlayLink       template.URL
	Overlay                      plugs.Whole
	OverlayAlt, Concerns, Spares string
	Excluded                     int
}

func evidence(p Page, s *plugs.Pictures, last int) []evidenceDay {
	var days []evidenceDay
	for _, r := range p.Trial.Trays {
		day := r.Day
		if r.Taken.IsZero() {
			day = -1
		}
		if len(days) == 0 || days[len(days)-1].Day != day {
			days = append(days, evidenceDay{Day: day, Last: day == last})
		}
		row := evidenceRow{Tray: r.Tray, Treatment: r.Treatment, View: r.View.Words(), ID: plugs.PhotoID(r.Tray, day, r.View),
			Photo: r.Photo, SHA256: r.SHA256, Taken: r.TakenWords(), Overlay: s.Overlay(r.Photo), Concerns: report.JoinConcerns(r.Concerns), Excluded: r.Excluded,
			OverlayAlt: fmt.Sprintf("Photo of tray %d, %s, with the counted areas marked", r.Tray, r.View.Words())}
		if found := fmt.Sprintf("%d of %d", r.Planted, r.Plugs); r.View == reading.Roots {
			row.Plugs = found
		} else {
			row.Stand = found
		}
		if d, ok := dayOf(p.Trial, r); ok && r.View == reading.Roots {
			row.Root, row.Brown = report.AmountWords(d, outcome.RootArea), report.AmountWords(d, outcome.RootBrowning)
		} else if ok {
			row.Leaf, row.Yellow = report.AmountWords(d, outcome.LeafArea), report.AmountWords(d, outcome.Chlorotic)
		}
		for i, other := range r.Others {
			if i > 0 {
				row.Spares += "; "
			}
			row.Spares += other
		}
		if p.Dir != "" && !p.Public {
			row.PhotoLink = linkTo(trialdir.PhotosFolder, r.Photo)
			row.OverlayLink = linkTo(trialdir.OverlaysFolder, filepath.Base(trialdir.OverlayPath(p.Dir, r.Photo)))
		}
		days = appendRow(days, row)
	}
	return days
}

// linkTo leads from the report's folder to a file of the trial.
func linkTo(folder, name string) template.URL {
	return template.URL((&url.URL{Path: "../" + folder + "/" + name}).EscapedPath())
}

func appendRow(days []evidenceDay, row evidenceRow) []evidenceDay {
	d := &days[len(days)-1]
	d.Rows = append(d.Rows, row)
	return days
}

// dayOf returns the figures of the tray in a photo on its day.
func dayOf(t *report.Trial, r report.TrayRow) (trayfigure.TrayDay, bool) {
	i := slices.IndexFunc(t.Days, func(d trayfigure.TrayDay) bool { return d.Day == r.Day && d.Tray == r.Tray })
	if i < 0 || r.Taken.IsZero() {
		return trayfigure.TrayDay{}, false
	}
	return t.Days[i], true
}
