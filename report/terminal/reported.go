package terminal

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
)

// Reported is what the report command prints as JSON.
type Reported struct {
	Files  []string             `json:"files"`
	Trays  []map[string]any     `json:"trays"`
	Unused []report.UnusedPhoto `json:"unused"`
	Broken []string             `json:"broken"` // readings that are to be made again

	Compared Compared `json:"compared"`
}

// ReportedOf gathers what is printed of a report as JSON. Lists are never null.
func ReportedOf(trial *report.Trial, compared *outcome.Result, files []string, broken []error) Reported {
	r := Reported{Files: files, Compared: ComparedOf(compared), Trays: report.TrayRecords(trial), Unused: report.UnusedPhotos(trial), Broken: []string{}}
	for _, b := range broken {
		r.Broken = append(r.Broken, b.Error())
	}
	return r
}

// WriteReported writes the answer to the main question, and which photos count although something is wrong with them.
func WriteReported(w io.Writer, trial *report.Trial, compared *outcome.Result) error {
	var out strings.Builder
	writeAnswer(&out, compared)
	writeDoubtful(&out, trial)
	_, err := io.WriteString(w, out.String())
	return err
}

// WriteFiles writes which photos could not be used, and where the files are.
func WriteFiles(w io.Writer, unused []report.UnusedPhoto, files []string) {
	for _, u := range unused {
		fmt.Fprintf(w, "%s: %s\n", wording.Shown(u.Photo), u.Why)
	}
	for _, f := range files {
		fmt.Fprintln(w, "wrote "+f)
	}
}

// WriteDoubtfulReadings says which readings the trial in folder dir does not vouch for: what is the same of many photos once, of all others a
// line each, the first twenty.
func WriteDoubtfulReadings(w io.Writer, dir string, doubtful []reading.TrialConcern) {
	const most, many = 20, 4
	alike := map[reading.Concern][]string{}
	for _, c := range doubtful {
		alike[c.Concern] = append(alike[c.Concern], c.Photos...)
	}
	said := map[reading.Concern]bool{}
	doubtful = slices.DeleteFunc(slices.Clone(doubtful), func(c reading.TrialConcern) bool {
		photos := alike[c.Concern]
		if len(photos) < many {
			return false
		}
		if !said[c.Concern] {
			said[c.Concern] = true
			fmt.Fprintf(w, "%s (%s to %s): each %s\n", wording.Counted(len(photos), "photo", "photos"), wording.Shown(photos[0]), wording.Shown(photos[len(photos)-1]), c.Sentence())
		}
		return true
	})
	for _, c := range doubtful[:min(most, len(doubtful))] {
		fmt.Fprintln(w, strings.Join(append(aboutPhotos(c.Photos), c.Sentence()), ": "))
	}
	if more := len(doubtful) - most; more > 0 {
		fmt.Fprintf(w, "and %s like these: run `traygauge measure %s` again\n", wording.Counted(more, "more photo", "more photos"), wording.Typed(dir))
	}
}

// WriteReasons writes what stays in a public report in someone's own words.
func WriteReasons(w io.Writer, readings []reading.Reading) {
	reasons := report.Reasons(readings)
	if len(reasons) == 0 {
		return
	}
	fmt.Fprintln(w, "These reasons for corrections will be public. Check them for names:")
	for _, why := range reasons {
		fmt.Fprintln(w, "  "+wording.Printable(why))
	}
}

// WriteLost writes what is not on the page, except for the photos that are reported already.
func WriteLost(w io.Writer, lost []string, reported []reading.TrialConcern) {
	for _, l := range lost {
		if !slices.ContainsFunc(reported, func(c reading.TrialConcern) bool { return strings.Contains(l, wording.Shown(c.Photos[0])) }) {
			fmt.Fprintln(w, l)
		}
	}
}

// writeDoubtful names the photos that count although something is wrong with them, by kind.
func writeDoubtful(out *strings.Builder, trial *report.Trial) {
	photos := map[reading.Kind][]string{}
	for _, r := range trial.Trays {
		for _, c := range r.Concerns {
			if !slices.Contains(photos[c.Kind], r.Photo) {
				photos[c.Kind] = append(photos[c.Kind], r.Photo)
			}
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(photos)) {
		WriteItem(out, fmt.Sprintf("counted, but %s: %s", kind, aboutPhotos(photos[kind])[0]))
	}
}
