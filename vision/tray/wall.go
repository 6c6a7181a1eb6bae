package tray

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// From above, medium or a dark hole ends at a cell's wall. What lies over it goes on, and so do leaves, though no leaf is as even as cloth, plastic or paper.
const (
	wallStrips       = 6          // side by side across the middle of a wall, where cells with rounded corners have one, too
	wallStrip        = 0.1        // of the pitch: how wide one is
	wallFrom, wallTo = 0.26, 0.56 // of the pitch, from the cell's middle on: past the wall's own middle
	wallRays         = 5

	// Changes along a strip as along the rims of plug bottoms. Cloth, straps and paper change by 0.01 to 0.04. Coarse cloth and moss change by 0.06 to 0.15, as medium
	// does: they are known by their colour, where it is not what there is across walls. Drawn trays have no two strips side by side without leaf that change less
	// than 0.15, and no three with leaf below 0.08.
	evenStrip, coarseStrip = 0.05, 0.14
	leastOff               = 0.4 // of logarithms of light: half as much again, as much as light changes over a tray that is lit well
	noLeaf                 = 0.1 // a share of leaf; more is taken for leaf

	darkLog = -2.8 // the logarithm of the light of 0.06 of paper, L* 30: coloured and wooden labels are lighter
)

// Across is how much of a cell's walls something goes across, in mm along the wall where that is widest.
type Across struct {
	MM     float64 // of any colour
	DarkMM float64 // darker than labels are
}

// WallsHidden returns for each cell, in reading order, over how much of its walls something lies that is neither leaf nor tray. leaf is where leaves lie. Nothing is
// seen under coloured light, in which leaves are not known for certain.
func WallsHidden(s *scene.Scene, t Layout, g Grid, leaf *raster.Share) []Across {
	across := make([]Across, t.Rows*t.Columns)
	if s.Light.Coloured {
		return across
	}
	walls := wallsOf(s, t, g, leaf)
	usual := usualColour(walls)
	for i := range walls {
		var any, dark float64
		for _, strip := range walls[i] {
			isAny, isDark := strip.thing(usual)
			any, dark = grownBy(any, isAny, wallStrip*t.PitchMM), grownBy(dark, isDark, wallStrip*t.PitchMM)
			a := &across[i/4]
			a.MM, a.DarkMM = max(a.MM, any), max(a.DarkMM, dark)
		}
	}
	return across
}

// grownBy is a run's length with one more in it, or none.
func grownBy(run float64, is bool, by float64) float64 {
	if !is {
		return 0
	}
	return run + by
}

// strip is what lies across a part of a wall.
type strip struct {
	change float64
	mean   [3]float64 // logarithms of light, red, green and blue
	leaf   float64    // share of leaf
}

// thing reports whether a thing lies there, and whether it is dark.
func (s strip) thing(usual [3]float64) (is, dark bool) {
	off := 0.0
	for k, v := range s.mean {
		off = max(off, math.Abs(v-usual[k]))
	}
	bare := s.leaf < noLeaf
	is = s.change < evenStrip || bare && s.change < coarseStrip && off > leastOff
	return is, is && bare && max(s.mean[0], s.mean[1], s.mean[2]) < darkLog
}

// usualColour is the median of what lies across walls, without leaf.
func usualColour(walls [][wallStrips]strip) (usual [3]float64) {
	for k := range usual {
		var all []float64
		for i := range walls {
			for _, s := range walls[i] {
				if s.leaf < noLeaf && !math.IsInf(s.change, 1) {
					all = append(all, s.mean[k])
				}
			}
		}
		if len(all) > 0 {
			usual[k] = raster.Median(all)
		}
	}
	return usual
}

// wallsOf returns the strips across each cell's four walls, cell by cell.
func wallsOf(s *scene.Scene, t Layout, g Grid, leaf *raster.Share) [][wallStrips]strip {
	place, w := g.placing(t), newWalk(s, t, (wallTo-wallFrom)*t.PitchMM)
	walls := make([][wallStrips]strip, 4*t.Rows*t.Columns)
	for i := range walls {
		u, v := t.Centre(i/4/t.Columns, i/4%t.Columns)
		way := [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[i%4]
		for n := range walls[i] {
			at := func(ray, step int) (float64, float64) {
				along := wallFrom*t.PitchMM + walkStepMM*float64(step)
				off := wallStrip * t.PitchMM * (float64(n-wallStrips/2) + (float64(ray)+0.5)/wallRays)
				return place(u+way[0]*along-way[1]*off, v+way[1]*along+way[0]*off)
			}
			st := &walls[i][n]
			st.change = w.change(wallRays, at)
			for step := range w.steps {
				for k, v := range w.steps[step] {
					st.mean[k] += v / float64(len(w.steps))
				}
				gu, gv := at(wallRays/2, step)
				st.leaf += float64(leaf.At(s.Plane.ToPx(s.TrayPoint(gu, gv)))) / 255 / float64(len(w.steps))
			}
		}
	}
	return walls
}
