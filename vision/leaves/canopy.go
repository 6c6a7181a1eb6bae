package leaves

import "traygauge/vision/raster"

// Plant is what the shoots view shows of one cell's plant.
type Plant struct {
	Row, Col int
	Empty    bool        // no plant
	Covered  bool        // no plant to be seen, and neighbours' leaves lie over where it would be
	Cut      bool        // part of the plant or its cell is outside the photo
	Shared   bool        // grown into a neighbour: where one ends is partly a guess
	Cell     []raster.Px // the cell's square in the photo

	LeafMM2   float64
	YellowMM2 float64
	DeadMM2   float64 // the part of LeafMM2 that is dead tissue
	UnsureMM2 float64 // of what is neither surely leaf nor surely not: at rims, and where algae look like leaf
	// UnsureYellowMM2 is of leaf that is neither surely yellow nor surely not, because its colour is near the limit.
	UnsureYellowMM2 float64
	LeafUMM2        float64    // standard uncertainty from telling leaf from ground and one plant from the next, by what the network sees
	HueDeg          float64    // median CIELAB h_ab of the leaf; NaN for none
	Own             raster.Lab // the leaf's mean colour, free of light and gloss
	DGCI            float64    // dark-green colour index of Own; NaN for none
	Centre          raster.Px
}

// Canopy is all that the shoots view shows.
type Canopy struct {
	Plants       []Plant
	CoverPct     float64      // leaf over the tray / tray area
	Leaf, Yellow raster.Share // over the part of the photo that was looked at
	HeightUsed   bool         // false: a leaf height was given but the photo names no focal length
}
