package synth

import "traygauge/vision/card"

// Tray12 is a small tray of Tray50's cells: three rows of four.
var Tray12 = Tray{Rows: 3, Columns: 4, LengthMM: 240, WidthMM: 180, PitchMM: 50, FirstU: 45, FirstV: 40, PlugBottomMM: 34}

// Small is Defaults with Tray12: as many px a mm from as high up, in a quarter of the pixels, so that hundreds can be drawn.
// The lens is a longer one, since from 480 mm a main lens shows more than twice the tray.
func Small(face card.Face) Spec {
	s := Defaults(face)
	s.Tray = Tray12
	s.Camera.Width, s.Camera.Height, s.Camera.Focal35 = 1700, 1960, 50
	return s
}
