package measure

import (
	"errors"
	"fmt"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
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
		name, sha, err := trialdir.PhotoNamed(dir, a.Photo)
		if err != nil {
			return err
		}
		if a.What == correct.Tray && p.TreatmentOf(a.Number) == "" {
			return fmt.Errorf("%s: the plan has no tray %d, only %s", wording.Shown(name), a.Number, wording.Trays(p.TrayNumbers()))
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
