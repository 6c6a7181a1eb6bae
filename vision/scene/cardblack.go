package scene

import (
	"math"
	"slices"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Blacks are the lights of what is printed black on the card, each over the paper beside it: alike within what ink and sheen differ, whatever light falls where,
// unless the curve from light to codes changes from place to place.
type Blacks struct {
	Markers [4]float64 // of their frames, 3 mm wide, clockwise from the top left
	Strip   float64    // of the darkest grey, 12 mm wide
	Middle  float64    // how many times as light wide black is in its middle as near its rim: 1, as ink and light are the same, unless the paper around made the rim darker
	Sides   float64    // how many times as light one side of a marker's frame is as another side of that frame, for the marker where they differ most: near 1, as ink 22 mm apart is alike
}

// Range returns the darkest and the lightest of them.
func (b Blacks) Range() (least, most float64) {
	all := append(b.Markers[:], b.Strip)
	return slices.Min(all), slices.Max(all)
}

// readBlacks reads the card's blacks by green.
func (s *Scene) readBlacks() (b Blacks) {
	for i, m := range card.Markers() {
		sides := s.blackOver(m, markerModule/2, 2.5)
		b.Markers[i] = raster.Median(sides)
		b.Sides = max(b.Sides, slices.Max(sides)/slices.Min(sides))
	}
	darkest := card.ToneStrip()[5].Rect
	b.Strip = raster.Median(s.blackOver(darkest, inset, 1))
	b.Middle = math.Sqrt(s.lightAround(darkest.Inset(5.5)) / s.lightAround(darkest.Inset(1.5)) * s.lightAround(squareInside.Inset(4)) / s.lightAround(squareInside.Inset(-1)))
	return b
}

// lightAround is the median light along the sides of a rectangle.
func (s *Scene) lightAround(r card.Rect) float64 {
	c := r.Corners()
	var sides []float64
	for k := range c {
		sides = append(sides, s.lightAlong(c[k], c[(k+1)%4]))
	}
	return raster.Median(sides)
}

// blackOver is the light along a line so many mm inside a black rectangle over that along one outside of it, by side.
func (s *Scene) blackOver(r card.Rect, inside, outside float64) []float64 {
	black, paper := r.Inset(inside).Corners(), r.Inset(-outside).Corners()
	var over []float64
	for k := range black {
		over = append(over, s.lightAlong(black[k], black[(k+1)%4])/s.lightAlong(paper[k], paper[(k+1)%4]))
	}
	return over
}

// lightAlong is the median green light along a line on the card.
func (s *Scene) lightAlong(a, b card.Pt) float64 {
	const points = 100
	var light []float64
	for i := range points {
		f := (float64(i) + 0.5) / points
		q := s.nominalPx(card.Pt{X: a.X + (b.X-a.X)*f, Y: a.Y + (b.Y-a.Y)*f})
		if x, y := int(math.Round(q.X)), int(math.Round(q.Y)); x >= 0 && y >= 0 && x < s.Photo.Width && y < s.Photo.Height {
			light = append(light, float64(s.Photo.Light(s.Photo.At(x, y))[1]))
		}
	}
	return math.Max(raster.LeastLight, raster.Median(light))
}
