// Package tray finds a tray's cells in a scene and looks at what the tray itself shows.
//
// In: a scene, the tray's shape by its drawing. Out: the grid of its cells, the pitch by the card, how even the light is, what lies over cells, how green
// the tray is.
// It must not know how much root or leaf there is, nor the plan.
package tray

// Layout is the shape of a tray in its own frame: u along the long side from the A1 corner with rising column numbers, v along
// the short side with rising row letters. All mm.
type Layout struct {
	Rows, Columns  int
	LengthMM       float64 // along u
	WidthMM        float64 // along v
	PitchMM        float64 // from plug to plug
	FirstU, FirstV float64 // centre of A1
	PlugMM         float64 // typical diameter of a plug's bottom

	Grid *Grid // where the cells are, set by hand; nil: the photo shows it
}

// Centre returns the (u, v) of a cell's centre.
func (t Layout) Centre(row, col int) (u, v float64) {
	return t.FirstU + float64(col)*t.PitchMM, t.FirstV + float64(row)*t.PitchMM
}
