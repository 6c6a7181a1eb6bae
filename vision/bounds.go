package vision

import (
	"image"
	"math"
)

// boundsOf returns the pixels that hold all of q; none for points beyond any photo.
func boundsOf(q []Px) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range q {
		x0, y0, x1, y1 = math.Min(x0, p.X), math.Min(y0, p.Y), math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	if !(x0 > -1e6 && y0 > -1e6 && x1 < 1e6 && y1 < 1e6) {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1))+1, int(math.Ceil(y1))+1)
}
