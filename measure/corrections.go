package measure

import (
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
)

// Corrections returns what is to be kept of a correction that somebody wants of a photo of the trial in folder dir: one for each of the plugs,
// or one for the whole photo. It is an error if the tray has no such plug, the trial no such photo, or moved corners do not fit the tray. photo is what
// trialdir.PhotoNamed takes; undoing needs none.
func Corrections(dir string, p *plan.Plan, c correct.Correction, photo string, plugs []string) (list []correct.Correction, err error) {
	if c.What == correct.Undo {
		return []correct.Correction{c}, nil
	}
	for _, plug := range plugs {
		if err := checkPlug(p, plug); err != nil {
			return nil, err
		}
	}
	if c.Photo, c.SHA256, err = trialdir.PhotoNamed(dir, photo); err != nil {
		return nil, err
	}
	if c.Corners != nil {
		if err := checkCorners(dir, c.Photo, p, *c.Corners); err != nil {
			return nil, err
		}
	}
	if len(plugs) == 0 {
		return []correct.Correction{c}, nil
	}
	for _, plug := range plugs {
		c.Plug = plug
		list = append(list, c)
	}
	return list, nil
}
