package overlay

import (
	"image"
	"math"
	"traygauge/measure/reading"
)

// PlugOn returns where a plug is on the overlay of its photo, whose size is that of the overlay within its frame: Draw reduces
// a photo only where its long side is above LongSide.
func PlugOn(at reading.Place, photo image.Point) reading.Place {
	long := max(photo.X, photo.Y)
	scale := math.Min(1, float64(LongSide)/float64(long))
	unit := math.Max(0.5, math.Round(float64(long)*scale)/LongSide)
	down := math.Floor(headPx*unit + 0.5)
	return reading.Place{X: (at.X+0.5)*scale - 0.5, Y: (at.Y+0.5)*scale - 0.5 + down, AlongX: at.AlongX * scale, AlongY: at.AlongY * scale}
}
