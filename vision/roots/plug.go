package roots

import "traygauge/vision/raster"

// Plug is what the roots view shows of one cell.
type Plug struct {
	Row, Col int
	Empty    bool        // no plug there
	Cut      bool        // the cell is not wholly in the photo
	Outline  []raster.Px // of the plug, or of where it would be

	PlugMM2  float64
	RootMM2  float64
	LengthMM float64
	BrownMM2 float64 // the discoloured part of RootMM2

	// How much plug is seen along its narrowest diameter, as a share of what is usual on this tray in that direction: about 1 for a whole plug, less
	// where something hides a part of it, 0 where there is no plug.
	Narrowest float64
	Beyond    bool      // what looks like plug goes on beyond where plugs end
	seen      []float64 // mm of plug along each ray from the cell's middle

	// Standard uncertainties from telling root, brown and centre lines apart, by what the network sees of this plug. The plane's share
	// is not in them.
	RootUMM2, BrownUMM2, LengthUMM float64

	Root, Brown raster.Share // Brown is the discoloured part of Root
}
