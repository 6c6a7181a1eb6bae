package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
	"traygauge/report"
)

// The verdicts on a photo, as they are printed.
const (
	good   = string(measure.VerdictGood)
	doubt  = string(measure.VerdictDoubt)
	retake = string(measure.VerdictRetake)
	unfit  = string(measure.VerdictUnusable)
)

// verdictOn returns the verdict on a photo as it is printed.
func verdictOn(r measure.Reading) string { return string(r.Verdict()) }

// printVerdict writes a photo's line, such as
//
//	day-14/tray-07-roots.jpg: tray 7, day 14, roots: doubt: the light falls off by 40 %: move the lamp
func printVerdict(w io.Writer, p *plan.Plan, r measure.Reading) {
	parts := []string{measure.Shown(r.Photo)}
	if what := shotWords(p, r); what != "" {
		parts = append(parts, what)
	}
	parts = append(parts, coloured(w, verdictOn(r)))
	var reasons []string
	if c := r.ExcludedBy(); c != nil {
		reasons = append(reasons, "by "+c.Who+", "+c.Why)
	}
	for _, c := range r.Concerns {
		reasons = append(reasons, concernWords(c))
	}
	if len(reasons) > 0 {
		parts = append(parts, strings.Join(reasons, "; "))
	}
	fmt.Fprintln(w, strings.Join(parts, ": "))
}

func concernWords(c measure.Concern) string {
	words := c.Words
	if c.Bias != "" {
		words += "; " + c.Bias
	}
	if c.Remedy == "" {
		return words
	}
	return words + ": " + c.Remedy
}

// shotWords says what the photo is of, as far as it is known.
func shotWords(p *plan.Plan, r measure.Reading) string {
	var words []string
	if r.Tray > 0 {
		words = append(words, "tray "+strconv.Itoa(r.Tray))
	}
	if r.View == "" {
		return strings.Join(words, ", ")
	}
	if !r.Taken.IsZero() {
		words = append(words, "day "+strconv.Itoa(p.DayOf(r.Taken)))
	}
	return strings.Join(append(words, measure.ViewWord(r.View)), ", ")
}

// manyTroubles is how many photos with something wrong are also summed up by kind.
const manyTroubles = 6

// printMeasured writes a line a day, with all the trays' table, too, then what concerns the trial as a whole.
func printMeasured(w io.Writer, p *plan.Plan, result measure.Result, t *report.Trial, all bool) error {
	printDays(w, p, result.Readings)
	if all && len(t.Days) > 0 {
		fmt.Fprintln(w)
		if err := report.WriteSummary(w, t); err != nil {
			return err
		}
	}
	kinds := troublesOf(result.Readings)
	troubled := 0
	for _, r := range result.Readings {
		troubled += count(len(r.Concerns) > 0)
	}
	if troubled < manyTroubles {
		kinds = nil
	}
	if len(kinds)+len(result.Concerns)+len(result.Skipped) > 0 {
		fmt.Fprintln(w)
	}
	for _, k := range kinds {
		fmt.Fprintf(w, "%s, %s: %s: %s\n", coloured(w, k.verdict), k.kind, aboutPhotos(k.photos)[0], k.remedy)
	}
	for _, c := range result.Concerns {
		fmt.Fprintln(w, strings.Join(append(aboutPhotos(c.Photos), concernWords(c.Concern)), ": "))
	}
	for _, s := range result.Skipped {
		fmt.Fprintf(w, "%s: left out: %s\n", measure.Shown(s.File), s.Why)
	}
	return nil
}

// printDays says of each day how many photos there are and how many of them are good.
//
//	day 14: 16 photos, 15 good
func printDays(w io.Writer, p *plan.Plan, readings []measure.Reading) {
	const undated = math.MaxInt
	photos, fine := map[int]int{}, map[int]int{}
	for _, r := range readings {
		day := undated
		if !r.Taken.IsZero() && (r.TakenFrom != "file" || r.Usable()) { // the date of a file that is no photo says nothing
			day = p.DayOf(r.Taken)
		}
		photos[day]++
		fine[day] += count(verdictOn(r) == good)
	}
	for _, day := range slices.Sorted(maps.Keys(photos)) {
		name, how := fmt.Sprintf("day %d", day), fmt.Sprintf("%d good", fine[day])
		if day == undated {
			name = "without a date"
		}
		if fine[day] == photos[day] {
			how = "all good"
		}
		fmt.Fprintf(w, "%s: %s, %s\n", name, countOf(photos[day], "photo", "photos"), how)
	}
}

// trouble is one kind of trouble with all photos that have it.
type trouble struct {
	verdict, kind, remedy string
	photos                []string
}

// troublesOf gathers what is wrong with photos by kind, the most serious first: sixty lines above become a handful to act on.
func troublesOf(readings []measure.Reading) []trouble {
	var list []trouble
	for _, r := range readings {
		for _, c := range r.Concerns {
			verdict := verdictOn(measure.Reading{Concerns: []measure.Concern{c}})
			i := slices.IndexFunc(list, func(t trouble) bool { return t.kind == c.Kind && t.verdict == verdict && t.remedy == c.Remedy })
			if i < 0 {
				i = len(list)
				list = append(list, trouble{verdict: verdict, kind: c.Kind, remedy: c.Remedy})
			}
			list[i].photos = append(list[i].photos, r.Photo)
		}
	}
	order := []string{retake, unfit, doubt}
	slices.SortStableFunc(list, func(a, b trouble) int { return slices.Index(order, a.verdict) - slices.Index(order, b.verdict) })
	return list
}

// coloured colours a verdict on a terminal that shows colours and whose user wants them (no-color.org). The word says the same.
func coloured(w io.Writer, verdict string) string {
	if os.Getenv("NO_COLOR") != "" || !isTerminal(w) {
		return verdict
	}
	code := map[string]string{good: "32", doubt: "33", retake: "31", unfit: "31"}[verdict]
	return "\x1b[" + code + "m" + verdict + "\x1b[0m"
}

// aboutPhotos names the photos of a concern, the first three of many.
func aboutPhotos(photos []string) []string {
	const most = 3
	var names []string
	for _, name := range photos[:min(len(photos), most)] {
		names = append(names, measure.Shown(name))
	}
	if len(photos) == 0 {
		return nil
	}
	words := strings.Join(names, ", ")
	if more := len(photos) - most; more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return []string{words}
}

// measured is what `measure --json` prints.
type measured struct {
	Photos   []photoVerdict         `json:"photos"`
	Trays    []map[string]any       `json:"trays"` // by the columns of trays.csv
	Concerns []measure.TrialConcern `json:"concerns"`
	Skipped  []trialdir.Skipped     `json:"skipped"`
	Measured int                    `json:"measured"`
	Kept     int                    `json:"kept"`
}

type photoVerdict struct {
	Photo    string     `json:"photo"`
	Verdict  string     `json:"verdict"`
	Tray     int        `json:"tray,omitempty"`
	Day      *int       `json:"day"` // null: not known
	View     string     `json:"view,omitempty"`
	TrayFrom string     `json:"trayfrom,omitempty"`  // "tag", "name" or "hand"
	Taken    *time.Time `json:"taken"`               // null: not known
	From     string     `json:"takenfrom,omitempty"` // "photo", "file" or "hand"

	PxPerMM       measure.Number `json:"px_per_mm"`
	MTF50PerMM    measure.Number `json:"mtf50_per_mm"`
	TiltDeg       measure.Number `json:"tilt_deg"`
	ResidualMM    measure.Number `json:"residual_mm"`
	PaperLightPct measure.Number `json:"paper_light_pct"`
	ClippedPct    measure.Number `json:"clipped_pct"`

	Concerns []measure.Concern `json:"concerns"`
}

// measuredOf gathers what `measure --json` prints. Lists are never null.
func measuredOf(p *plan.Plan, result measure.Result, t *report.Trial) measured {
	m := measured{
		Photos: []photoVerdict{}, Trays: report.TrayRecords(t), Measured: result.Measured, Kept: result.Reused,
		Concerns: append([]measure.TrialConcern{}, result.Concerns...), Skipped: append([]trialdir.Skipped{}, result.Skipped...),
	}
	for _, r := range result.Readings {
		v := photoVerdict{Photo: r.Photo, Verdict: verdictOn(r), Tray: r.Tray, View: r.View, Concerns: append([]measure.Concern{}, r.Concerns...),
			TrayFrom: r.TrayFrom, From: r.TakenFrom, PxPerMM: r.PxPerMM, MTF50PerMM: r.MTF50PerMM, TiltDeg: r.TiltDeg,
			ResidualMM: r.ResidualMM, PaperLightPct: r.PaperLightPct, ClippedPct: r.ClippedPct}
		if !r.Taken.IsZero() {
			day := p.DayOf(r.Taken)
			v.Day, v.Taken = &day, &r.Taken
		}
		m.Photos = append(m.Photos, v)
	}
	return m
}
