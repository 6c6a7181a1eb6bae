package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Grain is what medium, roots and leaves show at half a millimetre: how far a place's light is off the line between its neighbours', over the cell's mean
// light. A lens smeared in one part spreads much of the light there over many mm and leaves edges as sharp as they were, but faint.
const (
	grainLine  = 4   // every fourth row of the overview is looked at
	grainShare = 0.8 // of the pitch
	clearCells = 4   // the clearest quarter of a part's cells counts: a bare plug has little grain
)

// UnevenGrain returns how many times the grain of the tray's clearest part is that of its faintest, of thirds along and halves across; 0 where too little of the
// tray is seen.
func UnevenGrain(s *scene.Scene, t Layout, g Grid) float64 {
	if t.Columns < 3 || t.Rows < 2 {
		return 0
	}
	o := overviewOf(s, t)
	var along [3][]float64
	var across [2][]float64
	for r := range t.Rows {
		for c := range t.Columns {
			if grain := o.grain(t, g, r, c); grain > 0 {
				along[c*3/t.Columns] = append(along[c*3/t.Columns], grain)
				across[r*2/t.Rows] = append(across[r*2/t.Rows], grain)
			}
		}
	}
	return math.Max(clearestOverFaintest(along[:]), clearestOverFaintest(across[:]))
}

func clearestOverFaintest(parts [][]float64) float64 {
	least, most := math.Inf(1), 0.0
	for _, cells := range parts {
		if len(cells) < fewestPlaces {
			return 0
		}
		slices.Sort(cells)
		clear := cells[len(cells)-1-len(cells)/clearCells]
		least, most = math.Min(least, clear), math.Max(most, clear)
	}
	return most / least
}

// grain is that of one cell; 0 where it is not all in the photo.
func (o overview) grain(t Layout, g Grid, row, col int) float64 {
	u, v := t.Centre(row, col)
	at := o.s.TrayPoint(g.Place(t, u, v))
	shrink := float64(o.Shrink)
	q := o.s.Plane.ToPx(at)
	half := int(grainShare * t.PitchMM / 2 * o.s.Plane.PxPerMM(at) / shrink)
	x0, y0 := int(q.X/shrink)-half, int(q.Y/shrink)-half
	if half < 1 || x0 < 0 || y0 < 0 || x0+2*half > o.Width || y0+2*half > o.Height {
		return 0
	}
	var off, sum float64
	for y := y0; y < y0+2*half; y += grainLine {
		green := func(x int) float64 { return float64(raster.LinearOf[o.BGR[3*(y*o.Width+x)+1]]) }
		for x := x0 + 1; x < x0+2*half-1; x++ {
			off += math.Abs(green(x) - (green(x-1)+green(x+1))/2)
			sum += green(x)
		}
	}
	return off / math.Max(raster.LeastLight, sum)
}
