package plan

import (
	"fmt"
	"maps"
	"slices"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
)

// LeafHeightOn returns how many mm above the card's plane the leaves are on a day: what the plan says for that day; between two days that it
// names, along a straight line; before the first, along one from 0 at sowing. After the last day named leaves have grown on, no one knows how
// far: then it is that day's height, and sure is false. A plan that names no days has one height for all.
func (t TrayShape) LeafHeightOn(day int) (mm float64, sure bool) {
	days := slices.Sorted(maps.Keys(t.LeafHeightMMDays))
	if len(days) == 0 {
		return t.LeafHeightMM, true
	}
	from, low := 0, 0.0
	for _, to := range days {
		high := t.LeafHeightMMDays[to]
		if day == to || day < to && to == from {
			return high, true
		}
		if day < to {
			return low + (high-low)*float64(max(0, day-from))/float64(to-from), true
		}
		from, low = to, high
	}
	return low, false
}

// usualLeafMM is two fifths of the half metre from which a whole tray is photographed: leaves higher than that over the camera's height are refused
// (mostLeafShare in measure/checks), and leaves in plug trays are taken to stay below it.
const usualLeafMM = 200.0

// leafHeightsOnReviews says for which review days the leaves' height is a guess, and which heights are hardly one.
func (r *reader) leafHeightsOnReviews(p *Plan, tray *yaml.Node) {
	t := p.Tray
	for _, day := range p.ReviewDays {
		if _, named := t.LeafHeightMMDays[day]; named || len(t.LeafHeightMMDays) == 0 {
			continue
		}
		mm, sure := t.LeafHeightOn(day)
		remedy := fmt.Sprintf("measure the height of the leaves above the card in mm and add day %d to leaf_height_mm_on_day", day)
		if sure {
			r.Add(finding.Note, tray.Line, 0, fmt.Sprintf("the plan has no leaf height for review day %d: %.3g mm is used, between the heights before and after it", day, mm), remedy)
			continue
		}
		r.Warn(tray.Line, remedy, "the plan has no leaf height for review day %d: the last one, %.3g mm, is used, so leaves that have grown since will be measured too large", day, mm)
	}
	heights := append(slices.Collect(maps.Values(t.LeafHeightMMDays)), t.LeafHeightMM)
	if most := slices.Max(heights); most > usualLeafMM {
		r.Warn(tray.Line, "enter the height of the leaves above the card, not above the floor; photos taken from less than two and a half times that height are rejected",
			"leaves %.4g mm above the card would be too close to a phone at the usual height", most)
	}
}
