// Package solids lays solids into a height map: crumbs, grains, plates, threads and lumps, each where it is higher than what is there.
// In go a solid's shape in mm and its material; out come the height and the material on top, sample by sample. A palette holds the
// materials. It knows neither what a solid stands for nor where it is put, no light and no roots.
//
// Lengths are in mm, x to the right and y downward from the drawing's top left corner, z up from the plane of the plug's bottom.
package solids

import "traygauge/vision/synth/relief/num"

const (
	Side  = 512 // texels along a side of a drawing
	PerMM = 12
	Texel = 1.0 / PerMM // mm

	Across = 2 * Side              // samples of the height map along a side
	Step   = 1.0 / (2 * PerMM)     // mm from sample to sample
	Width  = float32(Side) / PerMM // mm across the drawing
)

// Relief is the height map of everything but the roots.
type Relief struct {
	Z     []float32 // mm
	Solid []uint16  // the material of the solid on top, an index into the palette
	*num.Tables
}

// NewRelief returns a level height map, at 0.
func NewRelief() *Relief {
	return &Relief{make([]float32, Across*Across), make([]uint16, Across*Across), num.MadeTables()}
}

// Lay puts a solid's surface into sample i where it is higher than what is there.
func (f *Relief) Lay(i int, z float32, solid uint16) {
	if z > f.Z[i] {
		f.Z[i], f.Solid[i] = z, solid
	}
}

// Box is a range of samples, the last ones excluded.
type Box struct{ X0, Y0, X1, Y1 int }

// Within is the samples within so many mm of a point, as far as the drawing goes.
func Within(x, y, reach float32) Box {
	reach = float32(reach)
	return Box{
		max(0, int((x-reach)/Step)), max(0, int((y-reach)/Step)),
		min(Across, int((x+reach)/Step)+1), min(Across, int((y+reach)/Step)+1),
	}
}

// Middle is where a sample's middle lies, in mm from the drawing's edge.
func Middle(i int) float32 { return float32((float32(i) + 0.5) * Step) }

// Height is the height map at a place, 0 outside the drawing.
func (f *Relief) Height(x, y float32) float32 {
	ix, iy := int(x/Step), int(y/Step)
	if x < 0 || y < 0 || ix >= Across || iy >= Across {
		return 0
	}
	return f.Z[iy*Across+ix]
}

// Sample is the index of the height map's sample at a place, or at the drawing's nearest edge.
func (f *Relief) Sample(x, y float32) int {
	return int(num.Clamp(y/Step, 0, Across-1))*Across + int(num.Clamp(x/Step, 0, Across-1))
}

// Lowest is the height in mm below which means of heights take no notice of depth.
const Lowest = -3
