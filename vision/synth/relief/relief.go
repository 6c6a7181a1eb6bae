package relief

const (
	side  = 512 // texels along a side of a drawing
	perMM = 12

	across = 2 * side              // samples of the height map along a side
	step   = 1.0 / (2 * perMM)     // mm from sample to sample
	width  = float32(side) / perMM // mm across the drawing
)

// relief is the height map of everything but the roots.
type relief struct {
	z     []float32 // mm
	solid []uint16  // the material of the solid on top, an index into the palette
	*tables
}

func newRelief() *relief {
	return &relief{make([]float32, across*across), make([]uint16, across*across), madeTables()}
}

// lay puts a solid's surface into sample i where it is higher than what is there.
func (f *relief) lay(i int, z float32, solid uint16) {
	if z > f.z[i] {
		f.z[i], f.solid[i] = z, solid
	}
}

// box is a range of samples, the last ones excluded.
type box struct{ x0, y0, x1, y1 int }

// within is the samples within so many mm of a point, as far as the drawing goes.
func within(x, y, reach float32) box {
	reach = float32(reach)
	return box{
		max(0, int((x-reach)/step)), max(0, int((y-reach)/step)),
		min(across, int((x+reach)/step)+1), min(across, int((y+reach)/step)+1),
	}
}

// middle is where a sample's middle lies, in mm from the drawing's edge.
func middle(i int) float32 { return float32((float32(i) + 0.5) * step) }

// height is the height map at a place, 0 outside the drawing.
func (f *relief) height(x, y float32) float32 {
	ix, iy := int(x/step), int(y/step)
	if x < 0 || y < 0 || ix >= across || iy >= across {
		return 0
	}
	return f.z[iy*across+ix]
}
