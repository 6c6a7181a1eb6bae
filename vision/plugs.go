package vision

// Tray is the shape of a tray in its own frame: u along the long side from the A1 corner with rising column numbers, v along
// the short side with rising row letters. All mm.
type Tray struct {
	Rows, Columns  int
	LengthMM       float64 // along u
	WidthMM        float64 // along v
	PitchMM        float64 // from plug to plug
	FirstU, FirstV float64 // centre of A1
	PlugMM         float64 // typical diameter of a plug's bottom

	Grid *Grid // where the cells are, set by hand; nil: the photo shows it
}

// centre returns the (u, v) of a cell's centre.
func (t Tray) centre(row, col int) (u, v float64) {
	return t.FirstU + float64(col)*t.PitchMM, t.FirstV + float64(row)*t.PitchMM
}

// RootPlug is what the roots view shows of one cell.
type RootPlug struct {
	Row, Col int
	Empty    bool // no plug there
	Cut      bool // the cell is not wholly in the photo
	Outline  []Px // of the plug, or of where it would be

	PlugMM2  float64
	RootMM2  float64
	LengthMM float64
	BrownMM2 float64 // the discoloured part of RootMM2

	// Standard uncertainties from telling root, brown and centre lines apart, by what the network sees of this plug. The plane's share
	// is not in them.
	RootUMM2, BrownUMM2, LengthUMM float64

	Root, Brown Share // Brown is the discoloured part of Root
}

// LeafPlant is what the shoots view shows of one cell's plant.
type LeafPlant struct {
	Row, Col int
	Empty    bool // no plant
	Covered  bool // no plant to be seen, and neighbours' leaves lie over where it would be
	Cut      bool // part of the plant or its cell is outside the photo
	Shared   bool // grown into a neighbour: where one ends is partly a guess
	Cell     []Px // the cell's square in the photo

	LeafMM2   float64
	YellowMM2 float64
	DeadMM2   float64 // the part of LeafMM2 that is dead tissue
	UnsureMM2 float64 // of what is neither surely leaf nor surely not: at rims, and where algae look like leaf
	// Standard uncertainties from telling leaf from ground, yellow from green and one plant from the next, by what the network sees.
	LeafUMM2, YellowUMM2 float64
	HueDeg               float64 // median CIELAB h_ab of the leaf; NaN for none
	Own                  Lab     // the leaf's mean colour, free of light and gloss
	DGCI                 float64 // dark-green colour index of Own; NaN for none
	Centre               Px
}

// Canopy is all that the shoots view shows.
type Canopy struct {
	Plants       []LeafPlant
	CoverPct     float64 // leaf over the tray / tray area
	Leaf, Yellow Share   // over the part of the photo that was looked at
	HeightUsed   bool    // false: a leaf height was given but the photo names no focal length
}
