package measure

import (
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
)

// Assignment says by hand what a photo is of.
type Assignment struct {
	Photo    string // its path below photos/, or as the shell completes it
	What     correct.Kind
	Number   int // the tray, or the day after sowing
	Who, Why string
}

// Assign keeps assignments among the trial's corrections; the next Run goes by them. Either all are kept or, where one cannot be
// meant, none. What is assigned so already is not kept twice.
func Assign(dir string, p *plan.Plan, assignments []Assignment) error {
	var list []correct.Correction
	for _, a := range assignments {
		name, sha, err := PhotoNamed(dir, a.Photo)
		if err != nil {
			return err
		}
		if a.What == correct.Tray && p.TreatmentOf(a.Number) == "" {
			return fmt.Errorf("%s: the plan has no tray %d: its trays are %s", Shown(name), a.Number, trayNumbers(p))
		}
		list = append(list, correct.Correction{Who: a.Who, Why: a.Why, What: a.What, Number: a.Number,
			SHA256: sha, Photo: strings.ToValidUTF8(name, "\ufffd")})
	}
	for _, c := range list {
		if _, err := correct.Append(dir, c); err != nil && !errors.Is(err, correct.ErrDone) {
			return err
		}
	}
	return nil
}

// belowPhotos takes off the way to photos/ that a shell's completion leaves in front of a photo.
func belowPhotos(dir, name string) string {
	name = path.Clean(filepath.ToSlash(name))
	for _, before := range []string{path.Clean(filepath.ToSlash(filepath.Join(dir, PhotosFolder))) + "/", PhotosFolder + "/"} {
		if below, ok := strings.CutPrefix(name, before); ok {
			return below
		}
	}
	return name
}

// trayNumbers names the plan's trays: "1, 2, 7".
func trayNumbers(p *plan.Plan) string {
	var numbers []int
	for _, t := range p.Trays {
		numbers = append(numbers, t.Number)
	}
	slices.Sort(numbers)
	return strings.ReplaceAll(strings.Trim(fmt.Sprint(numbers), "[]"), " ", ", ")
}

// PhotoNames returns the paths below photos/ of the trial's photos, for completing a command line.
func PhotoNames(dir string) []string {
	files, _, err := listPhotos(dir)
	if err != nil {
		return nil
	}
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	return names
}
