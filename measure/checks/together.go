package checks

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/checks/likeness"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// byTogether are the kinds of concern that Together raises.
var byTogether = []reading.Kind{reading.PlantsGone, reading.ColoursDiffering, reading.DayAgainstName, reading.TrayTurned, reading.LooksLikeOther, reading.SamePicture}

// A tray that loses half of its plants between two reviews may have, but a photo that hides them is likelier; two of few are chance.
const (
	leastKept = 0.5
	fewGone   = 3
)

// Together returns the readings with the doubts that only all of them together raise. The readings given are left as they are, and one
// that has such doubts already gets none twice.
func Together(p *plan.Plan, readings []reading.Reading) []reading.Reading {
	all := slices.Clone(readings)
	for i := range all {
		r := &all[i]
		r.Concerns = slices.DeleteFunc(slices.Clone(r.Concerns), func(c reading.Concern) bool { return slices.Contains(byTogether, c.Kind) })
		compareCard(r, readings)
		compareDay(r, p)
		if !r.Usable() || r.ExcludedBy() != nil || r.TakenFrom == reading.FromFile {
			continue
		}
		if before := lastBefore(p, readings, *r); before != nil {
			comparePlants(r, p, *before)
		}
	}
	likeness.Trays(all, p)
	likeness.Pictures(all, p)
	return all
}

// lastBefore returns the reading of the same tray and view on the last day before r's, nil for none.
func lastBefore(p *plan.Plan, readings []reading.Reading, r reading.Reading) (last *reading.Reading) {
	day := p.DayOf(r.Taken)
	for i := range readings {
		b := &readings[i]
		if b.Tray != r.Tray || b.View != r.View || !b.Usable() || b.ExcludedBy() != nil || b.TakenFrom == reading.FromFile || p.DayOf(b.Taken) >= day {
			continue
		}
		if last == nil || p.DayOf(b.Taken) > p.DayOf(last.Taken) || p.DayOf(b.Taken) == p.DayOf(last.Taken) && reading.BetterFirst(*b, *last) < 0 {
			last = b
		}
	}
	return last
}

// comparePlants doubts r where half of the plants, or of the plugs, that the review before showed are gone.
func comparePlants(r *reading.Reading, p *plan.Plan, before reading.Reading) {
	now, was := notEmpty(r), notEmpty(&before)
	if float64(now) >= leastKept*float64(was) || was-now < fewGone {
		return
	}
	what := "plants"
	if r.View == reading.Roots {
		what = "plugs"
	}
	r.Doubt(reading.PlantsGone, fmt.Sprintf("compare this overlay with that of day %d: are the plants gone, or just not detected (covered by a hand or paper, wrong side up, coloured light)?", p.DayOf(before.Taken)),
		"only %d of %d %s were found; day %d had %d", now, len(r.Plugs), what, p.DayOf(before.Taken), was)
}

// notEmpty counts the plugs that are not known to be empty.
func notEmpty(r *reading.Reading) (n int) {
	for _, p := range r.Plugs {
		n += count(p.State != reading.Empty)
	}
	return n
}

// dayWords finds "day 14", "day-14", "Day_14" and the like.
var dayWords = regexp.MustCompile(`(?i)(?:^|[^a-z])day[ _.-]?0*([0-9]{1,4})(?:[^0-9a-z]|$)`)

// dayInName returns the day that a photo's name, or the nearest of its folders, says; ok is false where none does.
func dayInName(photo string) (day int, ok bool) {
	for _, part := range slices.Backward(strings.Split(photo, "/")) {
		if found := dayWords.FindAllStringSubmatch(part, -1); len(found) == 1 {
			day, err := strconv.Atoi(found[0][1])
			return day, err == nil
		}
	}
	return 0, false
}

// compareDay doubts r where its name says another day than the photo. One that someone assigned by hand is settled.
func compareDay(r *reading.Reading, p *plan.Plan) {
	named, ok := dayInName(r.Photo)
	if !ok || r.Taken.IsZero() || r.TakenFrom != reading.FromPhoto || r.View == "" {
		return
	}
	if day := p.DayOf(r.Taken); day != named {
		r.Doubt(reading.DayAgainstName, "check the date on the phone; move the photo to the right folder, or set its day with --assign-day",
			"the photo was taken on day %d but its name says day %d; day %d is used", day, named, day)
	}
}
