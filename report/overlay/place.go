package overlay

import (
	"image"
	"traygauge/measure/reading"
)

// PlugOn returns where a plug is on the overlay of its photo, whose size is that of the overlay within its frame: Draw reduces
// a photo only where its long side is above LongSide.
func PlugOn(at reading.Place, photo image.Point) reading.Place {
	_, _, scale, unit := pageOf(photo.X, photo.Y)
	down := float64(headHigh(unit))
	return reading.Place{X: (at.X+0.5)*scale - 0.5, Y: (at.Y+0.5)*scale - 0.5 + down, AlongX: at.AlongX * scale, AlongY: at.AlongY * scale}
}
