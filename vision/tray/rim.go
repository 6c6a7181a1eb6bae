package tray

import (
	"math"
	"slices"

	"traygauge/vision/scene"
)

// As one walks from a plug's bottom outwards, light and colour change: medium or roots, the dark gap around them, the hole's edge, the tray's plastic. Over an
// empty cell the hole's dark ends at its edge. Whatever lies over a plug and beyond its rim, of whatever colour, goes on as it is there. This says nothing of a
// thing that lies within a rim.
const (
	rimParts   = 24   // of 15° each: 4.5 mm along a rim of 34 mm, less than a finger or a strap covers
	rimRays    = 3    // a part's, whose light is averaged: grain that is finer than a part is no change
	rimInside  = 0.7  // of the plug's radius; here the walk begins
	rimOutside = 0.96 // of half the pitch; here it ends, short of the next cell

	// How much logarithms of light change along the walk, as a standard deviation, in the channel that changes most. Of 1,956 plugs that two programs drew none has
	// two neighbouring parts that change less than 0.22, and one of 144 empty cells has four below 0.18; cloth, straps and paper change by 0.02 to 0.05,
	// moss and coarse cloth mostly by less than 0.15.
	rimUnseen = 0.18
	rimClear  = 2 * rimUnseen // a tray whose clearer quarter of parts shows less has no rims to go by
)

// RimsHidden returns for each cell, in reading order, the longest part of its plug's rim, 0 to 1 of the way around, that something goes across without change. All
// are 0 where the tray shows no rims.
func RimsHidden(s *scene.Scene, t Layout, g Grid) []float64 {
	change := rimChanges(s, t, g)
	hidden := make([]float64, len(change))
	var all []float64
	for _, parts := range change {
		all = append(all, parts[:]...)
	}
	slices.Sort(all)
	if len(all) == 0 || all[len(all)*3/4] < rimClear {
		return hidden
	}
	for k := range change {
		hidden[k] = longestBelow(change[k][:], rimUnseen)
	}
	return hidden
}

// rimChanges returns how much the light changes across each part of each rim; +Inf where that is not in the photo.
func rimChanges(s *scene.Scene, t Layout, g Grid) [][rimParts]float64 {
	place := g.placing(t)
	from, to := rimInside*t.PlugMM/2, rimOutside*t.PitchMM/2
	w := newWalk(s, t, to-from)
	change := make([][rimParts]float64, t.Rows*t.Columns)
	for k := range change {
		u, v := t.Centre(k/t.Columns, k%t.Columns)
		for part := range rimParts {
			change[k][part] = w.change(rimRays, func(ray, step int) (float64, float64) {
				sin, cos := math.Sincos(2 * math.Pi * (float64(part) + (float64(ray)+0.5)/rimRays) / rimParts)
				r := from + walkStepMM*float64(step)
				return place(u+r*cos, v+r*sin)
			})
		}
	}
	return change
}

// longestBelow returns which share of a ring the longest run of values below a limit is.
func longestBelow(ring []float64, limit float64) float64 {
	longest, run := 0, 0
	for i := range 2 * len(ring) {
		if ring[i%len(ring)] < limit {
			run++
		} else {
			run = 0
		}
		longest = max(longest, min(run, len(ring)))
	}
	return float64(longest) / float64(len(ring))
}
