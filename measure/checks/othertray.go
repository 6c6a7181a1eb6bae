package checks

import (
	"fmt"
	"math"
	"strings"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
)

// surePitch is the most that a pitch's standard uncertainty may be for the tray to be another one, whatever else the photo seems to show. Where something lies on the tray it is
// more.
const surePitch = 0.004

// planPitch refuses a photo of a tray whose plugs are clearly not as far apart as the plan says. What else would be said of it follows from that.
func planPitch(e Photo) *reading.Concern {
	plans := e.Grid.Pitch.Seen() && math.Abs(e.Grid.Pitch.Ratio-1) < worstPitchOff
	if mm := e.Grid.OtherMM; mm > 0 && !plans {
		return &reading.Concern{Kind: reading.OtherTray, Fatal: true,
			Words:  fmt.Sprintf("this is not the tray in the plan: its plugs are about %.0f mm apart, but the plan says %g mm", mm, e.Plan.Tray.PitchMM),
			Remedy: fmt.Sprintf("check pitch_mm, rows and columns in %s and measure again; if they are right, check that this is the right tray and that the card was printed at 100 %%", plan.FileName)}
	}
	if c := e.scaleOff(); c != nil && c.Fatal && e.Grid.Pitch.U < surePitch {
		return c
	}
	return nil
}

// planCells doubts a photo of a tray that has a row of plugs more than the plan. Where that is before the plan's first one, plugs would have other names.
func planCells(e Photo) *reading.Concern {
	if e.Reading.Grid != nil {
		return nil // somebody set the plugs' places
	}
	columns, rows := vision.MoreCells(e.Scene, e.Tray, e.Grid)
	var more, entries []string
	if columns != 0 {
		more, entries = append(more, "a column"), append(entries, "columns")
	}
	if rows != 0 {
		more, entries = append(more, "a row"), append(entries, "rows")
	}
	if len(more) == 0 {
		return nil
	}
	return &reading.Concern{Kind: reading.OtherTray, Fatal: columns < 0 || rows < 0,
		Words:  fmt.Sprintf("the tray in the photo has at least %s of plugs more than the %d × %d in the plan", strings.Join(more, " and "), e.Tray.Rows, e.Tray.Columns),
		Remedy: fmt.Sprintf("check %s and first_plug_mm in %s and measure again; if they are right, another tray is in the photo: leave a hand’s breadth between trays", strings.Join(entries, " and "), plan.FileName)}
}
