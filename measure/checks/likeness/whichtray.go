// Package likeness uses the sizes and places of plugs to find photos of the wrong tray, trays that were turned round, and
// pictures that appear twice.
//
//	in    the readings of a trial
//	out   doubts on these
//
// It must not look at photos or depend on how they are measured.
package likeness

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
)

// A large plant stays larger than its neighbours from review to review, and an empty plug stays empty, so that a tray's plugs show which tray it is and which way round
// it lies. Neither tag nor card does: a tag may stand beside another tray, and most trays look the same turned by 180°. Over the invented trial, sizes' ranks
// agree by 0.61 to 1 with those of the same tray a week before, by at most 0.41 with other trays' and by at most 0.32 turned (measured once; no command prints it).
//
// Each agreement is a rank correlation (Spearman 1904), whose Fisher transform has a standard deviation of 1/√(n − 3) between plants that have nothing to do with each other
// (Fisher 1921, Metron 1, 3-32; from memory). Light from one side makes trays alike, but no other tray more than the tray itself.
const (
	sureOfTurn  = 4.5 // standard deviations, of one other way round
	sureOfTray  = 5.0 // of up to 240 other trays on each day
	leastBetter = 4.0 // than the tray itself agrees
	fewestAgree = 10  // plugs
)

// pattern is how a tray's plugs rank by size: mean 0, sum of squares 1, 0 where nothing is known of a plug.
type pattern []float64

// patternOf returns nil where too few plugs are known or all are alike. Plugs that are empty and were planted in the review before, nil for none, are not known: their plants
// were harvested.
func patternOf(r, before *reading.Reading) pattern {
	var known []int
	var sizes []float64
	for i, p := range r.Plugs {
		harvested := before != nil && i < len(before.Plugs) && before.Plugs[i].State == reading.Planted
		switch size := sizeOf(r.View, p); {
		case p.State == reading.Empty && !harvested:
			known, sizes = append(known, i), append(sizes, 0)
		case p.State == reading.Planted && size.Known():
			known, sizes = append(known, i), append(sizes, float64(size))
		}
	}
	if len(known) < fewestAgree {
		return nil
	}
	ranks := stats.Ranks(sizes)
	middle, squares := float64(len(ranks)+1)/2, 0.0
	for _, v := range ranks {
		squares += (v - middle) * (v - middle)
	}
	if squares == 0 {
		return nil
	}
	of := make(pattern, len(r.Plugs))
	for k, i := range known {
		of[i] = (ranks[k] - middle) / math.Sqrt(squares)
	}
	return of
}

// sizeOf is how large a plug's plant is in a view.
func sizeOf(view reading.View, p reading.Plug) reading.Number {
	if view == reading.Roots {
		return p.RootAreaMM2
	}
	return p.LeafAreaMM2
}

// agrees returns the Fisher transform of the rank correlation of two patterns of one length, in standard deviations; plugs that one of the two does not know count as its
// middle.
func (a pattern) agrees(b pattern) float64 {
	sum, n := 0.0, 0
	for i := range a {
		sum += a[i] * b[i]
		if a[i] != 0 && b[i] != 0 {
			n++
		}
	}
	return math.Atanh(math.Min(sum, 0.999)) * math.Sqrt(math.Max(1, float64(n-3)))
}

// turned is the pattern of the tray turned by 180°: its last plug is where its first one was.
func (a pattern) turned() pattern {
	b := slices.Clone(a)
	slices.Reverse(b)
	return b
}

// Trays doubts readings whose plugs rank as those of another tray did on the last review, or as their own tray's the other way round.
func Trays(all []reading.Reading, p *plan.Plan) {
	for _, view := range reading.Views {
		byDay := map[int][]int{}
		var days []int
		for i := range all {
			if r := &all[i]; r.View == view && r.Usable() && r.ExcludedBy() == nil && r.TakenFrom != reading.FromFile {
				day := p.DayOf(r.Taken)
				if byDay[day] == nil {
					days = append(days, day)
				}
				byDay[day] = append(byDay[day], i)
			}
		}
		slices.Sort(days)
		last := map[int]before{} // by tray
		for _, day := range days {
			now := map[int]before{}
			for _, i := range byDay[day] {
				r := &all[i]
				compareTray(all, i, last)
				own := before{pattern: patternOf(r, nil), reading: i, day: day}
				if own.pattern == nil {
					continue
				}
				if b, twice := now[r.Tray]; !twice || reading.BetterFirst(*r, all[b.reading]) < 0 {
					now[r.Tray] = own
				}
			}
			for tray, b := range now {
				last[tray] = b
			}
		}
	}
}

// before is what a tray's last review showed.
type before struct {
	pattern
	reading, day int
}

// compareTray doubts a reading by what each tray's last review showed.
func compareTray(all []reading.Reading, i int, last map[int]before) {
	r := &all[i]
	was, ok := last[r.Tray]
	if !ok {
		return
	}
	own := patternOf(r, &all[was.reading])
	if len(was.pattern) != len(own) {
		return
	}
	same := own.agrees(was.pattern)
	if turned := own.turned().agrees(was.pattern); turned > sureOfTurn && turned-same > leastBetter {
		r.Doubt(reading.TrayTurned, "look at both overlays, then take the photo again with the card’s arrow at the A1 corner, or set the grid by hand; mark A1 on the tray to avoid this",
			"the tray seems to be turned round, here or on day %d: in reverse order, its plugs have the same ranking by size as on that day", was.day)
		return
	}
	if r.TrayFrom == reading.FromHand {
		return // somebody looked
	}
	if of, ok := likestOther(own, r.Tray, same, last); ok {
		r.Doubt(reading.LooksLikeOther, fmt.Sprintf("look at both overlays: a tag or name is wrong, here or on day %d; set the right tray with --assign", last[of].day),
			"this looks like another tray: its plugs have the ranking by size that tray %d had on day %d, not that of tray %d", of, last[of].day, r.Tray)
	}
}

// likestOther returns the other tray whose last review a pattern agrees with most, where that is clear and clearly more than with its own tray's.
func likestOther(own pattern, tray int, same float64, last map[int]before) (of int, ok bool) {
	best := sureOfTray
	for _, other := range slices.Sorted(maps.Keys(last)) {
		was := last[other]
		if other == tray || len(was.pattern) != len(own) {
			continue
		}
		if agrees := own.agrees(was.pattern); agrees > best && agrees-same > leastBetter {
			best, of, ok = agrees, other, true
		}
	}
	return of, ok
}
