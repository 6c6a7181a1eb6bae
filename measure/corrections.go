package measure

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
)

// Corrections returns the corrections to keep where someone corrects a photo of the trial in folder dir: one for each of the plugs, or one for the whole photo.
// It is an error if the tray has no such plug, if the trial has no such photo, if moved corners do not fit the tray, or if a plug to include was not left out
// as covered. photo is what trialdir.PhotoNamed takes; it may name a photo whose file is gone, if that was measured. Undoing needs none.
func Corrections(dir string, p *plan.Plan, c correct.Correction, photo string, plugs []string) (list []correct.Correction, err error) {
	if c.What == correct.Undo {
		return []correct.Correction{c}, nil
	}
	plugs = slices.Clone(plugs)
	for i, plug := range plugs {
		plugs[i] = strings.ToUpper(plug) // b7 is B7
		if err := checkPlug(p, plugs[i]); err != nil {
			return nil, err
		}
	}
	if c.Photo, c.SHA256, err = trialdir.PhotoNamed(dir, photo); err != nil {
		left, measured := measuredOnly(dir, photo)
		switch {
		case !measured:
			return nil, err
		case c.Corners != nil:
			return nil, errors.New("the photo file is missing, so its grid cannot be moved: put the file back into the folder photos")
		}
		c.Photo, c.SHA256 = left.Photo, left.SHA256
	}
	if c.What == correct.Include {
		if err := checkCovered(dir, c.SHA256, plugs); err != nil {
			return nil, err
		}
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

// checkCovered returns an error unless each of the plugs was left out as covered after it was measured.
func checkCovered(dir, sha string, plugs []string) error {
	r, err := reading.LoadOne(reading.Path(dir, sha))
	if err != nil {
		return errors.New("the photo has not been measured: measure it first")
	}
	for _, plug := range plugs {
		if _, ok := r.CoveredPlug(plug); !ok {
			return fmt.Errorf("plug %s cannot be included: only plugs that were measured but left out as covered can be", plug)
		}
	}
	return nil
}

// measuredOnly returns the one reading that name means, as trialdir.PhotoNamed would, where the photo itself is gone.
func measuredOnly(dir, name string) (r reading.Reading, ok bool) {
	readings, _ := reading.LoadReadings(dir)
	below := trialdir.BelowPhotos(dir, name)
	for _, fits := range []func(r reading.Reading) bool{
		func(r reading.Reading) bool { return r.Photo == below },
		func(r reading.Reading) bool { return path.Base(r.Photo) == name },
		func(r reading.Reading) bool { return len(name) >= 8 && strings.HasPrefix(r.SHA256, name) },
	} {
		found := slices.DeleteFunc(slices.Clone(readings), func(r reading.Reading) bool { return !fits(r) })
		if len(found) == 1 {
			return found[0], true
		}
	}
	return r, false
}
