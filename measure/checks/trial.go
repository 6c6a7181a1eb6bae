package checks

import (
	"fmt"
	"slices"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// shot is what one usable photo is of.
type shot struct {
	photo     string
	tray, day int
	view      reading.View
}

// AcrossTrial says what is wrong with the photos taken together: trays that cannot be named or are not in the plan, a
// tray twice, one without its second view on a review day, and dates that the plan does not know.
func AcrossTrial(p *plan.Plan, readings []reading.Reading) []reading.TrialConcern {
	var concerns []reading.TrialConcern
	var shots []shot
	var counted []reading.Reading
	for _, r := range readings {
		switch {
		case r.ExcludedBy() != nil: // somebody looked at it already
		case r.Fatal() || r.View == "":
		case r.Tray == 0:
			concerns = append(concerns, withoutTag(r)...)
		case p.TreatmentOf(r.Tray) == "":
			concerns = append(concerns, reading.TrialConcern{Photos: []string{r.Photo}, Concern: reading.Concern{
				Kind: reading.TrayNotInPlan, Words: fmt.Sprintf("shows tray %d, which is not in the plan", r.Tray),
				Remedy: "check the tag beside the tray, or add the tray to " + plan.FileName,
			}})
		default:
			counted = append(counted, r)
			shots = append(shots, shot{r.Photo, r.Tray, p.DayOf(r.Taken), r.View})
		}
	}
	concerns = append(concerns, twice(p, counted)...)
	concerns = append(concerns, printOff(p, readings)...)
	concerns = append(concerns, undated(readings)...)
	concerns = append(concerns, strangeDays(p, shots)...)
	return append(concerns, missingViews(p, shots)...)
}

// withoutTag adds nothing where the reading says so itself.
func withoutTag(r reading.Reading) []reading.TrialConcern {
	if slices.ContainsFunc(r.Concerns, func(c reading.Concern) bool { return reading.AboutTag(c.Kind) }) {
		return nil
	}
	return []reading.TrialConcern{{Photos: []string{r.Photo}, Concern: reading.Concern{
		Kind: reading.NoTag, Words: "shows a tray without a tag", Remedy: "put the tray’s tag beside the card and take the photo again",
	}}}
}

// twice finds a tray that was photographed more than once in one view on one day, and says which photo counts.
func twice(p *plan.Plan, counted []reading.Reading) []reading.TrialConcern {
	photos := reading.ByOccasion(p, counted)
	var order []reading.Occasion
	for _, r := range counted {
		if at := (reading.Occasion{Day: p.DayOf(r.Taken), Tray: r.Tray, View: r.View}); !slices.Contains(order, at) {
			order = append(order, at)
		}
	}
	var concerns []reading.TrialConcern
	for _, key := range order {
		same := photos[key]
		if len(same) < 2 {
			continue
		}
		var names []string
		for _, r := range same {
			names = append(names, r.Photo)
		}
		why := "it is the newest"
		if len(same[0].Concerns) < len(same[1].Concerns) {
			why = "it has fewer concerns"
		}
		concerns = append(concerns, reading.TrialConcern{Photos: names, Concern: reading.Concern{
			Kind: reading.TrayTwice,
			Words: fmt.Sprintf("tray %d was photographed %d times on day %d (%s); %s is used, because %s",
				key.Tray, len(names), key.Day, key.View, wording.Shown(names[0]), why),
			Remedy: "check that this is the best one; to use another, move this one out of photos/",
		}})
	}
	return concerns
}

// undated gathers the photos whose date is only the file's.
func undated(readings []reading.Reading) []reading.TrialConcern {
	var names []string
	for _, r := range readings {
		if r.TakenFrom == reading.FromFile && !r.Fatal() {
			names = append(names, r.Photo)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []reading.TrialConcern{{Photos: names, Concern: reading.Concern{
		Kind: reading.NoDate, Words: wording.Counted(len(names), "photo does not record when it was", "photos do not record when they were") + " taken, so the file’s date is used",
		Remedy: "copy the original photos from the phone, because messengers and picture editors remove the date; or set the day with --assign-day",
	}}}
}

// strangeDays finds days on which trays were photographed though the plan has no review then.
func strangeDays(p *plan.Plan, shots []shot) []reading.TrialConcern {
	if len(p.ReviewDays) == 0 {
		return nil
	}
	photos := map[int][]string{}
	var days []int
	for _, s := range shots {
		if slices.Contains(p.ReviewDays, s.day) {
			continue
		}
		if photos[s.day] == nil {
			days = append(days, s.day)
		}
		photos[s.day] = append(photos[s.day], s.photo)
	}
	slices.Sort(days)
	var concerns []reading.TrialConcern
	for _, day := range days {
		names := photos[day]
		c := reading.Concern{
			Kind:   reading.DateNotInPlan,
			Words:  fmt.Sprintf("%s taken on day %d (%s), which is not a review day", wording.Counted(len(names), "photo was", "photos were"), day, p.DateOf(day).Format(time.DateOnly)),
			Remedy: fmt.Sprintf("add %d to review_days if the review was moved, or check the date on the phone; --assign-day sets the day of a photo", day),
		}
		if day < 0 {
			c.Words = fmt.Sprintf("%s taken on %s, %s before sowing", wording.Counted(len(names), "photo was", "photos were"), p.DateOf(day).Format(time.DateOnly), wording.Counted(-day, "day", "days"))
			c.Remedy = "check the date on the phone, and sown in " + plan.FileName
		}
		concerns = append(concerns, reading.TrialConcern{Photos: names, Concern: c})
	}
	return concerns
}

// missingViews finds trays that lack a view on a review day that has come: one up to the last day with a photo. A day
// without any photo is reported once.
func missingViews(p *plan.Plan, shots []shot) []reading.TrialConcern {
	type key struct {
		tray, day int
		view      reading.View
	}
	have := map[key]bool{}
	lastDay, photographed := -1, map[int]bool{}
	for _, s := range shots {
		have[key{s.tray, s.day, s.view}] = true
		photographed[s.day] = true
		lastDay = max(lastDay, s.day)
	}
	var concerns []reading.TrialConcern
	for _, day := range p.ReviewDays {
		if day > lastDay {
			break
		}
		if !photographed[day] {
			concerns = append(concerns, reading.TrialConcern{Concern: reading.Concern{
				Kind: reading.ReviewMissing, Words: fmt.Sprintf("there is no photo from review day %d (%s)", day, p.DateOf(day).Format(time.DateOnly)),
				Remedy: "update review_days if the review was moved or cancelled",
			}})
			continue
		}
		for _, view := range reading.Views {
			var lack []int
			for _, t := range p.Trays {
				if !have[key{t.Number, day, view}] {
					lack = append(lack, t.Number)
				}
			}
			if len(lack) > 0 {
				concerns = append(concerns, reading.TrialConcern{Concern: reading.Concern{
					Kind:   reading.ViewMissing,
					Words:  fmt.Sprintf("day %d has no photo of the %s of %s", day, view.Words(), wording.Trays(lack)),
					Remedy: "take the photos while it is still that day, or leave the gap; missing values stay blank",
				}})
			}
		}
	}
	return concerns
}
