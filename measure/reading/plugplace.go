package reading

import "math"

// Place is where a plug is in its upright photo, in pixels: x to the right, y down, the centre of the first pixel at (0, 0).
// It is kept for showing the plug, not for measuring by.
type Place struct {
	X      float64 `json:"x"` // the plug's middle; from above the middle of its plant's leaves, where it has one
	Y      float64 `json:"y"`
	AlongX float64 `json:"along_x"` // one mm along the tray's long side, from column 1 to column 2, at the plug's scale
	AlongY float64 `json:"along_y"`
}

// PxPerMM returns the scale at the plug.
func (p Place) PxPerMM() float64 { return math.Hypot(p.AlongX, p.AlongY) }
