package tray

import (
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Seen from above, medium or a dark hole ends at a cell's wall. A thing that lies over the wall goes on beyond it, and so do leaves.
const (
	wallStrips       = 6          // side by side across the middle of a wall, where cells with rounded corners have one, too
	wallStrip        = 0.1        // of the pitch: how wide one is
	wallFrom, wallTo = 0.26, 0.56 // of the pitch, from the cell's middle on: past the wall's own middle
	wallRays         = 5
)

// WallsHidden returns for each cell, in reading order, how many mm of one of its walls something lies over that is neither leaf nor tray, seen from above. leaf is where
// leaves lie. All are 0 where the tray shows no walls, and under coloured light, in which leaves are not known for certain.
func WallsHidden(s *scene.Scene, t Layout, g Grid, leaf *raster.Share) []Hidden {
	hidden := make([]Hidden, t.Rows*t.Columns)
	if s.Light.Coloured {
		return hidden
	}
	walls := wallsOf(s, t, g, leaf)
	medium, clear := usual(walls)
	if !clear {
		return hidden
	}
	for i := range 4 * len(hidden) {
		var run Hidden
		for _, strip := range walls[i*wallStrips : (i+1)*wallStrips] {
			run = run.grownBy(wallStrip*t.PitchMM, strip.over(medium))
			hidden[i/4] = hidden[i/4].longer(run)
		}
	}
	return hidden
}

// wallsOf walks across the strips of each cell's four walls, cell by cell.
func wallsOf(s *scene.Scene, t Layout, g Grid, leaf *raster.Share) []strip {
	place, w := g.placing(t), newWalk(s, t, (wallTo-wallFrom)*t.PitchMM)
	walls := make([]strip, t.Rows*t.Columns*4*wallStrips)
	for i := range walls {
		k := i / wallStrips / 4
		u, v := t.Centre(k/t.Columns, k%t.Columns)
		way := [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[i/wallStrips%4]
		at := func(ray, step int) (float64, float64) {
			along := wallFrom*t.PitchMM + walkStepMM*float64(step)
			off := wallStrip * t.PitchMM * (float64(i%wallStrips-wallStrips/2) + (float64(ray)+0.5)/wallRays)
			return place(u+way[0]*along-way[1]*off, v+way[1]*along+way[0]*off)
		}
		walls[i] = w.strip(wallRays, at)
		for step := range w.steps {
			gu, gv := at(wallRays/2, step)
			walls[i].leaf += float64(leaf.At(s.Plane.ToPx(s.TrayPoint(gu, gv)))) / 255 / float64(len(w.steps))
		}
	}
	return walls
}
