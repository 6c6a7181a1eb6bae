package vision

import "math"

// What may be specks: pieces of root that stand alone and are smaller than smallPieceMM2. strayMM2 is what specks taken for root or
// rootlets for specks come to on any plug.
const (
	smallPieceMM2 = 4.0
	strayMM2      = 2.0
)

// doubt is the standard uncertainty of a root area of white and brown mm² on a support of wide mm², of which small mm² are in
// pieces that may be specks.
//
// Inks and medium each move by their own spread. A plug's white roots are of several ages, and share sharedInk of their ink's
// spread; its brown ones share twice that and all of their own, since they brown together. The medium within the support is not the
// plug's mean: light grains of it pass for root more easily than dark ones, which moves it by most of its spread. Of the
// small pieces all or none may be specks.
func (c *rootCell) doubt(k ink, white, brown, wide, small float64) RootDoubt {
	contrast := math.Max(0.05, float64(k.white.luminance()-c.medium.luminance()))
	return RootDoubt{
		Ink:    white * k.vary * sharedInk,
		Brown:  brown * math.Hypot(2*k.vary*sharedInk, k.brownVary),
		Medium: math.Max(0, wide-white-brown) * c.spread / contrast * lightGrains,
		Specks: math.Hypot(strayMM2, small),
	}
}

const (
	sharedInk   = 0.3
	lightGrains = 0.8
)

// smallPieces returns the root area in pixels of pieces of the support that may be specks.
func (c *rootCell) smallPieces(share []float32) float64 {
	sum := 0.0
	least := smallPieceMM2 * sq(c.pxMM)
	eachPiece(c.lines.support, c.p.w, c.p.h, func(piece []int32) {
		area := 0.0
		for _, i := range piece {
			area += float64(max(0, share[i]))
		}
		if area < least {
			sum += area
		}
	})
	return sum
}
