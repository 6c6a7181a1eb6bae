package vision

import "image"

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

// Share is how much of each pixel in Rect is something: 0 none to 255 all, row by row.
type Share struct {
	Rect image.Rectangle
	A    []uint8
}

// RootPlug is what the roots view shows of one cell.
type RootPlug struct {
	Row, Col int
	Empty    bool // no plug there
	Cut      bool // the cell is not wholly in the photo
	Outline  []Px // of the plug, or of where it would be

	PlugMM2 float64
	RootMM2 float64
	// RootDoubt is the standard uncertainty of RootMM2 from telling root and medium apart. The plane's share is not in it.
	RootDoubt RootDoubt
	LengthMM  float64
	// CrowdMM is the part of LengthMM that was not seen but reckoned, where lines lie too close to be told apart.
	CrowdMM  float64
	BrownMM2 float64 // the discoloured part of RootMM2

	Root, Brown Share // per pixel; Brown is the discoloured part of Root
}

// RootDoubt holds standard uncertainties of a root area in mm²: how far it moves when the colours of pure root and of medium move by
// their own spread, and when what may be specks is taken for root or the other way round.
type RootDoubt struct{ Ink, Brown, Medium, Specks float64 }

// LeafPlant is what the shoots view shows of one cell's plant.
type LeafPlant struct {
	Row, Col int
	Empty    bool // no plant
	Covered  bool // no plant to be seen, and neighbours' leaves lie over where it would be
	Cut      bool // part of the plant or its cell is outside the photo
	Shared   bool // grown into a neighbour: where one ends is partly a guess
	Cell     []Px // the cell's square in the photo

	LeafMM2   float64
	LeafUMM2  float64 // standard uncertainty of LeafMM2 from telling leaf and ground apart
	YellowMM2 float64
	HueDeg    float64 // median CIELAB h_ab of the leaf; NaN for none
	DGCI      float64 // dark-green colour index of the leaf's median colour; NaN for none
	Centre    Px
}

// Canopy is all that the shoots view shows.
type Canopy struct {
	Plants       []LeafPlant
	CoverPct     float64 // leaf over the tray / tray area
	Leaf, Yellow Share   // over the part of the photo that was looked at
	Label        []uint8 // for each pixel of Leaf.Rect 1 + the index in Plants of whose leaf it is, 0 for none
	HeightUsed   bool    // false: a leaf height was given but the photo names no focal length
}
