// Package raster holds points, light and colours as numbers.
//
// In: pixels' places, 8-bit codes, linear light, a network's logits. Out: linear light and its inverse, CIELAB and differences in it, 3 × 3 matrices,
// shares of pixels, medians.
// It must not know files, cards, trays or plants; it imports nothing of this project.
package raster

import (
	"image"
	"math"
)

// Px is a point in a photo, in pixels: x to the right, y down, the centre of the first pixel at (0, 0).
type Px struct{ X, Y float64 }

// BoundsOf returns the pixels that hold all of q; none for points beyond any photo.
func BoundsOf(q []Px) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range q {
		x0, y0, x1, y1 = math.Min(x0, p.X), math.Min(y0, p.Y), math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	if !(x0 > -1e6 && y0 > -1e6 && x1 < 1e6 && y1 < 1e6) {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1))+1, int(math.Ceil(y1))+1)
}

// Crossings returns where a row crosses a convex polygon; lo > hi where it does not.
func Crossings(q []Px, y float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i, a := range q {
		if b := q[(i+1)%len(q)]; (a.Y <= y) != (b.Y <= y) {
			x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	return lo, hi
}
