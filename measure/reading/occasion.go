package reading

import (
	"slices"
	"strings"

	"traygauge/measure/plan"
)

// Usable reports whether r says what was photographed and holds something to report.
func (r Reading) Usable() bool { return !r.Fatal() && r.Tray > 0 && r.View != "" && len(r.Plugs) > 0 }

// Planted returns how many plugs have a plant, or seen from below are there.
func (r Reading) Planted() (n int) {
	for _, p := range r.Plugs {
		if p.State == Planted {
			n++
		}
	}
	return n
}

// BetterFirst orders the photos of one tray, day and view; the first is the one to use: any before an excluded one, fewer
// concerns before more, later before earlier, for a photo is taken again because the first one was not liked, then by name.
func BetterFirst(a, b Reading) int {
	if outA, outB := a.ExcludedBy() != nil, b.ExcludedBy() != nil; outA != outB {
		if outB {
			return -1
		}
		return 1
	}
	if n := len(a.Concerns) - len(b.Concerns); n != 0 {
		return n
	}
	if c := b.Taken.Compare(a.Taken); c != 0 {
		return c
	}
	return strings.Compare(a.Photo, b.Photo)
}

// Occasion is what one photo is expected for: a tray in a view on a day.
type Occasion struct {
	Day, Tray int
	View      View
}

// ByOccasion gathers readings by what they show. In each list the first is the one that counts (BetterFirst); photos without a date make
// occasions of their own.
func ByOccasion(p *plan.Plan, readings []Reading) map[Occasion][]Reading {
	all := map[Occasion][]Reading{}
	for _, r := range readings {
		at := Occasion{p.DayOf(r.Taken), r.Tray, r.View}
		all[at] = append(all[at], r)
	}
	for _, photos := range all {
		slices.SortFunc(photos, BetterFirst)
	}
	return all
}
