package reading

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
)

// Given is what people settled about a photo. The zero value leaves all to the photo.
type Given struct {
	Corners *correct.Corners // where the plugs lie; nil: the photo shows it
	Day     *int             // after sowing; nil: the photo or its file says when it was taken
}

// Correct makes r show the corrections that count for its photo, as correct.Log.Of gives them, and none that it showed
// before. Of several for one plug the last counts; a photo that is excluded is so with all its plugs. What was measured of
// the plugs that changed is kept in AsMeasured. An excluded plug keeps its values; a covered one that is included has those that were measured. A plug
// set empty has none, nor has one set planted in which nothing was measured, nor has an excluded photo a canopy cover. A grid that was moved needs measuring again, and until then is a concern.
func (r *Reading) Correct(made []correct.Correction) {
	r.revertCorrections()
	r.Corrections = made
	if byHand := trayOfMade(made); byHand > 0 || r.TrayFrom != "" || r.Tray == 0 {
		r.SettleTray(byHand)
	} // a reading of an earlier version names its tray, but not where from: it stands until the photo is measured again
	was := map[string]Plug{}
	for _, c := range made {
		if c.Plug != "" && c.What != correct.Move && !r.correctPlugs(c, was) && len(r.Plugs) > 0 {
			r.Doubt(CorrectionNotUsed, fmt.Sprintf("undo it with `traygauge correct undo DIR %d`, or check rows and columns in the plan", c.ID),
				"correction %d is for plug %s, which this tray does not have", c.ID, c.Plug)
		}
	}
	if c := r.ExcludedBy(); c != nil {
		r.correctPlugs(*c, was)
		canopy := r.CanopyCoverPct
		r.CanopyCoverPct, r.CanopyMeasuredPct = Missing, &canopy
	}
	for _, p := range r.Plugs {
		if measured, changed := was[p.Name]; changed {
			r.AsMeasured = append(r.AsMeasured, measured)
		}
	}
	if !SameJSON(r.Grid, GridOf(made)) {
		r.Doubt(GridMovedSince, "run `traygauge measure` again", "the photo was measured before its grid was moved")
	}
	if (DayOf(made) != nil) != (r.TakenFrom == FromHand) {
		r.Doubt(DaySetSince, "run `traygauge measure` again", "the photo was measured before its day was set or changed by hand")
	}
}

// revertCorrections takes all corrections back but a grid's, which only measuring again can.
func (r *Reading) revertCorrections() {
	for _, measured := range r.AsMeasured {
		for i := range r.Plugs {
			if r.Plugs[i].Name == measured.Name {
				r.Plugs[i] = measured
			}
		}
	}
	if r.CanopyMeasuredPct != nil {
		r.CanopyCoverPct = *r.CanopyMeasuredPct
	}
	r.AsMeasured, r.CanopyMeasuredPct, r.Corrections = nil, nil, nil
	r.Concerns = slices.DeleteFunc(r.Concerns, func(c Concern) bool { return slices.Contains(aboutCorrections, c.Kind) })
}

// correctPlugs changes the plug that c is about, or all of them, and puts into was what was measured of it. It reports whether
// there was one.
func (r *Reading) correctPlugs(c correct.Correction, was map[string]Plug) (any bool) {
	for i := range r.Plugs {
		g := &r.Plugs[i]
		if c.Plug != "" && c.Plug != g.Name {
			continue
		}
		if _, kept := was[g.Name]; !kept {
			was[g.Name] = *g
		}
		if any = true; c.What == correct.Include {
			*g = r.included(was[g.Name])
		} else {
			*g = corrected(was[g.Name], c.What)
		}
	}
	return any
}

// corrected returns a plug of which was was measured, after a correction.
func corrected(was Plug, what correct.Kind) Plug {
	g := was
	flag := ExcludedByHand
	switch {
	case what == correct.Exclude:
		g.State = Excluded
	case what == correct.Empty:
		g, flag = EmptyPlug(was.Name), EmptyByHand
		g.State = Empty
	case was.State != Planted:
		g, flag = EmptyPlug(was.Name), PlantedByHand
	default:
		flag = PlantedByHand
	}
	g.Place, g.Flags = was.Place, append(slices.Clone(was.Flags), flag)
	return g
}

// included returns a covered plug with what was measured of it. A plug that is not covered, or of which nothing was measured, stays as it was.
func (r *Reading) included(was Plug) Plug {
	g, ok := r.CoveredPlug(was.Name)
	if !ok || was.State != Hidden {
		return was
	}
	g.Flags = append(slices.Clone(was.Flags), IncludedByHand)
	return g
}

// CoveredPlug returns the plug of that name that something seems to cover, as it was measured; ok is false where there is none.
func (r Reading) CoveredPlug(name string) (p Plug, ok bool) {
	i := slices.IndexFunc(r.Covered, func(p Plug) bool { return p.Name == name })
	if i < 0 {
		return p, false
	}
	return r.Covered[i], true
}

// ExcludedBy returns the correction that excludes the whole photo, or nil.
func (r Reading) ExcludedBy() *correct.Correction {
	for _, c := range r.Corrections {
		if c.What == correct.Exclude && c.Plug == "" {
			return &c
		}
	}
	return nil
}

// ShowCorrections writes the corrections in force for the photo with the given SHA-256 into its reading, if it has one, in the trial
// in folder dir. What LoadReadings returns does not depend on it; it is for those who open the file itself.
func ShowCorrections(dir, sha string) error {
	corrections, err := correct.Load(dir)
	if err != nil {
		return err
	}
	r, err := LoadOne(Path(dir, sha))
	if err != nil {
		return nil // none yet, or a broken one that the next run makes again
	}
	r.Correct(corrections.Of(sha))
	return Save(dir, r)
}

// GridOf returns where the corrections moved the grid to last, or nil.
func GridOf(made []correct.Correction) *correct.Corners {
	var at *correct.Corners
	for _, c := range made {
		if c.What == correct.Move {
			at = c.Corners
		}
	}
	return at
}

// trayOfMade returns the tray that the corrections assigned last, or 0.
func trayOfMade(made []correct.Correction) (tray int) {
	for _, c := range made {
		if c.What == correct.Tray {
			tray = c.Number
		}
	}
	return tray
}

// DayOf returns the day after sowing that the corrections assigned last, or nil.
func DayOf(made []correct.Correction) (day *int) {
	for _, c := range made {
		if c.What == correct.Day {
			day = &c.Number
		}
	}
	return day
}

// IsOfDay reports whether r was measured for the day that was assigned by hand, nil for none.
func (r Reading) IsOfDay(day *int, p *plan.Plan) bool {
	if day == nil {
		return r.TakenFrom != FromHand
	}
	return r.TakenFrom == FromHand && p.DayOf(r.Taken) == *day
}

// SameJSON reports whether two values are the same in a reading's file.
func SameJSON(a, b any) bool {
	textA, errA := json.Marshal(a)
	textB, errB := json.Marshal(b)
	return errA == nil && errB == nil && bytes.Equal(textA, textB)
}
