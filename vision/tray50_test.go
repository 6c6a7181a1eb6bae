package vision

import (
	"traygauge/vision/synth"
	"traygauge/vision/tray"
)

// tray50 is the tray that scenes show, as the finder takes it.
func tray50() tray.Layout {
	s := synth.Tray50
	return tray.Layout{Rows: s.Rows, Columns: s.Columns, LengthMM: s.LengthMM, WidthMM: s.WidthMM, PitchMM: s.PitchMM,
		FirstU: s.FirstU, FirstV: s.FirstV, PlugMM: s.PlugBottomMM}
}
