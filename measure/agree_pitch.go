package measure

import (
	"fmt"
	"math"

	"traygauge/vision/card"
)

// The tray's own pitch is known from the plan, so it tells whether the card's millimetres are millimetres. Trays of one mould differ by a few
// tenths of a per cent, and a pitch read off a rule over five plugs by half a per cent (common practice, no source): from 1.5 % it is the
// card. An area is off by twice that. At 4 % it is off by 8 %, as much as many a treatment does.
const (
	mostPitchOff   = 0.015
	worstPitchOff  = 0.04
	pitchCertainty = 3 // standard uncertainties by which a pitch must be off
)

// trayPitch holds the distance between the tray's plugs by the card against the plan's.
func trayPitch(e evidence) *Concern {
	pitch := e.seen.Grid.Pitch
	if !pitch.Seen() {
		return nil
	}
	e.r.PitchRatio, e.r.PitchRatioU = Number(pitch.Ratio), Number(pitch.U)
	off := e.pitchOff()
	if math.Abs(off) < mostPitchOff || math.Abs(off) < pitchCertainty*pitch.U {
		return nil
	}
	more, height, rule := "more", "lower than the plugs", e.plan.Card.RuleMM*(1-off)
	if off < 0 {
		more, height = "less", "higher than the plugs"
	}
	c := &Concern{Kind: scaleOff, Fatal: math.Abs(off) >= worstPitchOff,
		Words: fmt.Sprintf("by the card the tray's plugs are %.1f mm apart, by the plan %g mm: %.1f %% %s, at most %.1f %% may be",
			pitch.Ratio*e.plan.Tray.PitchMM, e.plan.Tray.PitchMM, 100*math.Abs(off), more, 100*mostPitchOff),
		Bias: fmt.Sprintf("its areas would come out %.0f %% too %s", 100*math.Abs((1+off)*(1+off)-1), map[bool]string{true: "large", false: "small"}[off > 0]),
	}
	c.Remedy = fmt.Sprintf("check two things: the print (measure the card's ruler with a steel rule; if it is the print, its 100 mm measure %.1f: write that as rule_mm and measure again) and the card's height (it must not lie %s%s)",
		rule, height, e.heightWords(off))
	if e.seen.Scene.Face == card.Shoots && off > 0 {
		c.Remedy += "; leaves that stand higher than leaf_height_mm says look like this, too"
	}
	if c.Fatal {
		c.Remedy += "; if it is the height, take the photo again"
	}
	return c
}

// scaleOff is the kind of concern of a photo whose card and tray are at odds.
const scaleOff = "scale off"

// pitchOff is how much wider the pitch is than the plan allows for: leaves stand above the card and look wider apart, up to the height that the
// plan has for them.
func (e evidence) pitchOff() float64 {
	ratio := e.seen.Grid.Pitch.Ratio
	if ratio > 1 && e.seen.Scene.Face == card.Shoots {
		h := e.plan.Tray.LeafHeightOn(e.plan.DayOf(e.r.Taken))
		return math.Max(0, ratio/raisedBy(e.seen.Scene, h)-1)
	}
	return ratio - 1
}

// heightWords says how far off the plugs' height the card would have to lie.
func (e evidence) heightWords(off float64) string {
	z := e.seen.Scene.Plane.HeightMM
	if z <= 0 {
		return ""
	}
	return fmt.Sprintf("; by %.0f mm it would look like this", math.Abs(z*off/(1+off)))
}
