package tray

import (
	"math"

	"traygauge/vision/scene"
)

// On the way from a plug's bottom outwards, light and colour change: medium or roots, the dark gap around them, the hole's edge, the tray's plastic. In an
// empty cell the hole's dark ends at its edge. A thing that lies over a plug and beyond its rim looks the same all along, whatever its colour. A thing that lies
// within a rim is not found in this way.
const (
	rimParts   = 24   // of 15° each: 4.5 mm along a rim of 34 mm, less than a finger or a strap covers
	rimRays    = 3    // of a part; their light is averaged, so that fine grain is no change
	rimInside  = 0.7  // of the plug's radius; here the walk begins
	rimOutside = 0.96 // of half the pitch; here it ends, short of the next cell
)

// RimsHidden returns for each cell, in reading order, how many mm of its plug's rim something lies over, seen from below. All are 0 where the tray shows no rims.
func RimsHidden(s *scene.Scene, t Layout, g Grid) []Hidden {
	hidden := make([]Hidden, t.Rows*t.Columns)
	rims := rimsOf(s, t, g)
	medium, clear := usual(rims)
	if !clear {
		return hidden
	}
	mm := math.Pi * t.PlugMM / rimParts
	for k := range hidden {
		var run Hidden
		for i := range 2 * rimParts { // twice around: what lies there may go on over the first part
			run = run.grownBy(mm, rims[k*rimParts+i%rimParts].over(medium)).upTo(mm * rimParts)
			hidden[k] = hidden[k].longer(run)
		}
	}
	return hidden
}

// rimsOf walks across each part of each rim, cell by cell.
func rimsOf(s *scene.Scene, t Layout, g Grid) []strip {
	place := g.placing(t)
	from, to := rimInside*t.PlugMM/2, rimOutside*t.PitchMM/2
	w := newWalk(s, t, to-from)
	rims := make([]strip, t.Rows*t.Columns*rimParts)
	for i := range rims {
		k, part := i/rimParts, i%rimParts
		u, v := t.Centre(k/t.Columns, k%t.Columns)
		var way [rimRays][2]float64
		for ray := range way {
			way[ray][1], way[ray][0] = math.Sincos(2 * math.Pi * (float64(part) + (float64(ray)+0.5)/rimRays) / rimParts)
		}
		rims[i] = w.strip(rimRays, func(ray, step int) (float64, float64) {
			r := from + walkStepMM*float64(step)
			return place(u+r*way[ray][0], v+r*way[ray][1])
		})
	}
	return rims
}
