package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// fringe returns how many mm red edges of the card's markers lie off their blue edges, on the side where that is most: a lens that bends one colour more than another makes
// the picture in it larger. Black ink ends in all colours at one place, whatever its light. 0 where no edge could be read.
func (s *Scene) fringe() (most float64) {
	for _, corners := range s.Corners {
		for k := range corners {
			most = max(most, s.fringeAlong(corners[k], corners[(k+1)%4]))
		}
	}
	return most
}

// fringeAlong is that of one edge, from a to b with black on its right-hand side.
func (s *Scene) fringeAlong(a, b raster.Px) float64 {
	middle := s.Plane.ToMM(raster.Px{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2})
	perMM := s.Plane.PxPerMM(middle)
	reach := 0.5 * markerModule * s.scale * perMM
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	nx, ny := (b.Y-a.Y)/length, -(b.X-a.X)/length // points to the light side
	var off []float64
	for i := range int((1 - 2*cornerShare) * length) {
		f := cornerShare + float64(i)/length
		at := raster.Px{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
		r, isRed := crossing(s.Photo, red, at, nx, ny, reach)
		b, isBlue := crossing(s.Photo, blue, at, nx, ny, reach)
		if isRed && isBlue {
			off = append(off, r-b)
		}
	}
	if len(off) < leastEdgePx {
		return 0
	}
	return math.Abs(raster.Median(off)) / perMM
}

// markerModule is how wide a marker's frame is, in mm as drawn.
var markerModule = (card.Markers()[0].Max.X - card.Markers()[0].Min.X) / card.Modules
