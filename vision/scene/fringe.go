package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Fringe returns the distance in mm between the red and the blue edges of the card's markers, on the side where it is largest. A lens that bends one colour more than
// another makes the picture in it larger, but black ink ends in the same place in all colours. It is 0 if no edge could be read.
func (s *Scene) Fringe() (most float64) {
	for _, corners := range s.Corners {
		for k := range corners {
			most = max(most, s.fringeAlong(corners[k], corners[(k+1)%4]))
		}
	}
	return most
}

// fringeAlong returns the distance for one edge, from a to b with black on its right-hand side.
func (s *Scene) fringeAlong(a, b raster.Px) float64 {
	perMM := s.Plane.PxPerMM(s.Plane.ToMM(raster.Px{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}))
	reach := 0.5 * markerModule * s.scale * perMM
	var off []float64
	alongEdge(a, b, func(base raster.Px, nx, ny float64) {
		redAt, hasRed := crossing(s.Photo, red, base, nx, ny, reach)
		blueAt, hasBlue := crossing(s.Photo, blue, base, nx, ny, reach)
		if hasRed && hasBlue {
			off = append(off, redAt-blueAt)
		}
	})
	if len(off) < leastEdgePx {
		return 0
	}
	return math.Abs(raster.Median(off)) / perMM
}

// markerModule is the width of a marker's black frame in mm, as drawn.
var markerModule = (card.Markers()[0].Max.X - card.Markers()[0].Min.X) / card.Modules
