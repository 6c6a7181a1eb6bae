// Package closeup holds drawings of a small part of a tray, seen straight on from far away without a lens: what each texel looks
// like, and what it truly shows. The coverage networks are trained on such drawings, photographed over and over by vision/train.
//
// A drawing is square, Side × Side texels, row by row from the top left; a texel is 1/PerMM mm wide. All its slices hold shares or
// amounts of the whole texel, so that a sum over texels is an area or a length without further ado.
package closeup

// RGB is linear light in sRGB's primaries (IEC 61966-2-1): 1 is what the card's white paper sends back where it lies in the same light.
type RGB [3]float32

// Roots is a plug's bottom and what surrounds it. The plug is centred to within 2 mm.
type Roots struct {
	Side  int
	PerMM float64

	Light []RGB     // what is seen: own colour times light and shade, gloss added; may exceed 1 in a gloss
	White []float32 // share of the texel where a white to cream root lies on top
	Brown []float32 // share where a tan to brown root lies on top
	Line  []float32 // mm of a root's centre line in the texel, where that root lies on top
	Plug  []float32 // share that is the plug's bottom: medium, roots and whatever lies on it
}

// Leaves is a part of a canopy with the medium and the tray below it.
type Leaves struct {
	Side  int
	PerMM float64

	Light []RGB     // what is seen, as in Roots
	Own   []RGB     // the topmost leaf's own colour, without light, shade and gloss; of no meaning where Leaf is 0
	Leaf  []float32 // share of the texel where a leaf or stalk of any colour lies on top
	Dead  []float32 // the part of Leaf that is dead, brown tissue
	Plant []uint8   // 1 + the index in Bases of the plant whose leaf lies on top, 0 for none

	Bases  [][2]float64 // where each plant grows from, in texels from the top left corner; may be outside the drawing
	Middle [2]float64   // the middle of a cell of the tray's grid, in texels
	Pitch  float64      // from cell to cell, in texels; the grid is as upright as the drawing
}

// NewRoots returns an empty drawing.
func NewRoots(side int, perMM float64) *Roots {
	n := side * side
	return &Roots{Side: side, PerMM: perMM, Light: make([]RGB, n), White: make([]float32, n), Brown: make([]float32, n),
		Line: make([]float32, n), Plug: make([]float32, n)}
}

// NewLeaves returns an empty drawing.
func NewLeaves(side int, perMM float64) *Leaves {
	n := side * side
	return &Leaves{Side: side, PerMM: perMM, Light: make([]RGB, n), Own: make([]RGB, n), Leaf: make([]float32, n),
		Dead: make([]float32, n), Plant: make([]uint8, n)}
}
