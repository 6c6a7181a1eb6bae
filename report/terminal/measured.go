package terminal

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
)

// manyTroubles is how many photos with something wrong are also summed up by kind.
const manyTroubles = 6

// WriteMeasured writes a line a day, with all the trays' table, too, then what concerns the trial as a whole.
func WriteMeasured(w io.Writer, p *plan.Plan, result measure.Result, t *report.Trial, all bool) error {
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
		if len(r.Concerns) > 0 {
			troubled++
		}
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
		fmt.Fprintln(w, strings.Join(append(aboutPhotos(c.Photos), c.Sentence()), ": "))
	}
	for _, s := range result.Skipped {
		fmt.Fprintf(w, "%s: left out: %s\n", wording.Shown(s.File), s.Why)
	}
	return nil
}

// printDays says of each day how many photos there are and how many of them are good.
//
//	day 14: 16 photos, 15 good
func printDays(w io.Writer, p *plan.Plan, readings []reading.Reading) {
	const undated = math.MaxInt
	photos, fine := map[int]int{}, map[int]int{}
	for _, r := range readings {
		day := undated
		if !r.Taken.IsZero() && (r.TakenFrom != reading.FromFile || r.Usable()) { // the date of a file that is no photo says nothing
			day = p.DayOf(r.Taken)
		}
		photos[day]++
		if r.Verdict() == reading.VerdictGood {
			fine[day]++
		}
	}
	for _, day := range slices.Sorted(maps.Keys(photos)) {
		name, how := fmt.Sprintf("day %d", day), fmt.Sprintf("%d good", fine[day])
		if day == undated {
			name = "without a date"
		}
		if fine[day] == photos[day] {
			how = "all good"
		}
		fmt.Fprintf(w, "%s: %s, %s\n", name, wording.Counted(photos[day], "photo", "photos"), how)
	}
}

// trouble is one kind of trouble with all photos that have it.
type trouble struct {
	verdict reading.Verdict
	remedy  string
	kind    reading.Kind
	photos  []string
}

// troublesOf gathers what is wrong with photos by kind, the most serious first: sixty lines above become a handful to act on.
func troublesOf(readings []reading.Reading) []trouble {
	var list []trouble
	for _, r := range readings {
		for _, c := range r.Concerns {
			verdict := reading.Reading{Concerns: []reading.Concern{c}}.Verdict()
			i := slices.IndexFunc(list, func(t trouble) bool { return t.kind == c.Kind && t.verdict == verdict && t.remedy == c.Remedy })
			if i < 0 {
				i = len(list)
				list = append(list, trouble{verdict: verdict, kind: c.Kind, remedy: c.Remedy})
			}
			list[i].photos = append(list[i].photos, r.Photo)
		}
	}
	order := []reading.Verdict{reading.VerdictRetake, reading.VerdictUnusable, reading.VerdictDoubt}
	slices.SortStableFunc(list, func(a, b trouble) int { return slices.Index(order, a.verdict) - slices.Index(order, b.verdict) })
	return list
}
