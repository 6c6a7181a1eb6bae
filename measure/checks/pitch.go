package checks

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// The tray's own pitch is known from the plan, so it shows whether the card's millimetres are right. Trays of one mould are taken to
// differ by a few tenths of a per cent, and a pitch read off a rule to a millimetre over five plugs of 50 mm is off by up to 0.4 %: from 1.5 % it is the
// card. An area is off by twice that. At 4 % it is off by 8 %, as much as many a treatment does.
const (
	mostPitchOff   = 0.015
	worstPitchOff  = 0.04
	pitchCertainty = 3 // standard uncertainties by which a pitch must be off

	// A print that is stretched one way puts plugs farther apart that way. Over drawn trays seen from below they are up to 1 % wider one way than
	// the other, from above, between leaves, up to 3 % where that is certain.
	mostLonger = 0.04

	// Leaves stand above the card, look moved away from the picture's middle and hide more of what lies on their far side: what is left bare looks
	// closer together, over drawn trays with leaves up to 50 mm high by up to 0.28 of the stretch that the leaves themselves show.
	hiddenShare = 0.3
)

// trayPitch holds the distance between the tray's plugs by the card against the plan's.
func trayPitch(e Photo) *reading.Concern {
	pitch := e.Grid.Pitch
	if !pitch.Seen() || has(e.Reading, reading.SomethingOnTheTray) { // a thing on the tray is taken for a cell
		return nil
	}
	e.Reading.PitchRatio, e.Reading.PitchRatioU = reading.Number(pitch.Ratio), reading.Number(pitch.U)
	return e.scaleOff()
}

// scaleOff returns what is wrong with the card's scale by the distance between the tray's plugs, nil for nothing.
func (e Photo) scaleOff() *reading.Concern {
	pitch := e.Grid.Pitch
	if !pitch.Seen() {
		return nil
	}
	off := e.pitchOff()
	if math.Abs(pitch.Longer) > mostLonger && math.Abs(pitch.Longer) > pitchCertainty*pitch.LongerU {
		return stretchedPrint(e, off)
	}
	if math.Abs(off) < mostPitchOff || math.Abs(off) < pitchCertainty*pitch.U {
		return nil
	}
	more, lies := "more", "lower"
	if off < 0 {
		more, lies = "less", "higher"
	}
	c := &reading.Concern{Kind: reading.ScaleOff, Fatal: math.Abs(off) >= worstPitchOff,
		Words: fmt.Sprintf("the plugs are %.1f mm apart, but the plan says %g mm: %.1f %% %s (limit %.1f %%); either the printed ruler measures %.1f mm instead of %g, or the card lies %s than the plugs%s",
			pitch.Ratio*e.Plan.Tray.PitchMM, e.Plan.Tray.PitchMM, 100*math.Abs(off), more, 100*mostPitchOff, e.Plan.Card.RuleMM/(1+off), e.Plan.Card.RuleMM, lies, e.heightWords(off)),
		Remedy: "check three things: pitch_mm in " + plan.FileName + " (measure over as many plugs as possible), the print (measure the card’s ruler with a steel rule, enter it as rule_mm and measure again) and the card’s height (it must be level with the plugs)",
		Bias:   scaleBias(off),
	}
	if c.Fatal {
		c.Remedy += "; if the height was wrong, take the photo again"
	}
	return c
}

// scaleBias is what lengths that are off do to areas.
func scaleBias(off float64) string {
	return fmt.Sprintf("its areas would be %.0f %% too %s", 100*math.Abs((1+off)*(1+off)-1), map[bool]string{true: "large", false: "small"}[off > 0])
}

// stretchedPrint is the concern about a card whose millimetres are not the same both ways.
func stretchedPrint(e Photo, off float64) *reading.Concern {
	pitch, mm := e.Grid.Pitch, e.Plan.Tray.PitchMM
	worst := math.Abs(off) + math.Abs(pitch.Longer)/2 // the one way or the other
	return &reading.Concern{Kind: reading.ScaleOff, Fatal: worst >= worstPitchOff,
		Words: fmt.Sprintf("the plugs are %.1f mm apart along the tray and %.1f mm across it, but the plan says %g mm (limit for the difference %.0f %%): the printed card is stretched",
			(pitch.Ratio+pitch.Longer/2)*mm, (pitch.Ratio-pitch.Longer/2)*mm, mm, 100*mostLonger),
		Remedy: fmt.Sprintf("measure the card with a steel rule: its sides must have the ratio %g to %g; if they do not, print the card again at 100 %% (turn off “fit to page”) and take the photo again", card.Width, card.Height),
		Bias:   scaleBias(off)}
}

// pitchOff is how much wider the pitch is than the plan allows for. From above it is measured between the leaves.
func (e Photo) pitchOff() float64 {
	off := e.Grid.Pitch.Ratio - 1
	if off < 0 && e.Scene.Face == card.Shoots {
		h, _ := e.Plan.Tray.LeafHeightOn(e.Plan.DayOf(e.Reading.Taken))
		return math.Min(0, off+hiddenShare*(raisedBy(e.Scene, h)-1))
	}
	return off
}

// heightWords says how far off the plugs' height the card would have to lie.
func (e Photo) heightWords(off float64) string {
	z := e.Scene.Plane.HeightMM
	if z <= 0 {
		return ""
	}
	return fmt.Sprintf(" by %.0f mm", math.Abs(z*off/(1+off)))
}

// What all photos of a day are off by alike is no card that lay badly once.
const (
	fewestAlike = 3
	leastAlike  = 0.01
)

// printOff finds days on which the roots photos, where no leaf stands over the card, are all off by the same sign: that is the print.
func printOff(p *plan.Plan, readings []reading.Reading) []reading.TrialConcern {
	type sums struct {
		photos  []string
		ratio   float64
		up, low int
	}
	days := map[int]*sums{}
	for _, r := range readings {
		if r.View != reading.Roots || !(r.PitchRatio > 0) || r.ExcludedBy() != nil {
			continue
		}
		day := p.DayOf(r.Taken)
		if days[day] == nil {
			days[day] = &sums{}
		}
		s, off := days[day], float64(r.PitchRatio)-1
		s.photos, s.ratio = append(s.photos, r.Photo), s.ratio+float64(r.PitchRatio)
		s.up, s.low = s.up+count(off >= leastAlike), s.low+count(off <= -leastAlike)
	}
	var concerns []reading.TrialConcern
	for _, day := range slices.Sorted(maps.Keys(days)) {
		s := days[day]
		n := len(s.photos)
		if n < fewestAlike || s.up < n && s.low < n {
			continue
		}
		mean := s.ratio / float64(n)
		concerns = append(concerns, reading.TrialConcern{Photos: s.photos, Concern: reading.Concern{Kind: reading.PrintScale,
			Words:  fmt.Sprintf("on all %d roots photos of day %d, the plugs are %s apart than in the plan, by %.1f %% on average; this points to the print, not to how the card lay", n, day, map[bool]string{true: "wider", false: "less wide"}[mean > 1], 100*math.Abs(mean-1)),
			Remedy: fmt.Sprintf("measure the card’s ruler with a steel rule and enter it as rule_mm in %s (the photos suggest %.1f), or correct pitch_mm, and measure again", plan.FileName, p.Card.RuleMM/mean),
		}})
	}
	return concerns
}
