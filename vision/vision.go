package vision

import "traygauge/vision/raster"

// What the rooms below hand up.
type (
	Px    = raster.Px
	RGB   = raster.RGB
	Lab   = raster.Lab
	Share = raster.Share
)

// LabOf returns a colour's CIELAB coordinates.
func LabOf(c RGB) Lab { return raster.LabOf(c) }
