package answer

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/wording"
)

// Beforehand returns the one comparison of a treatment that is shown by itself, or why there is none; treatment is "" for the first in the
// plan that is compared with anything. It is the comparison that answers the plan's main question; where the plan names none, that in root
// area on the last review, or in leaf area where roots were not compared: settled beforehand, and not the one that looks best.
func Beforehand(pl *plan.Plan, r *outcome.Result, treatment string) (outcome.Comparison, error) {
	var names []string
	for _, t := range pl.Treatments {
		if len(t.CompareWith) > 0 {
			names = append(names, t.Name)
		}
	}
	switch {
	case len(names) == 0:
		return outcome.Comparison{}, errors.New("no treatment in the plan has a control: add compare_with to a treatment")
	case treatment == "":
		treatment = names[0]
	case !slices.Contains(names, treatment):
		return outcome.Comparison{}, fmt.Errorf("%q is not a treatment with a control: the treatments with a control are %s", treatment, wording.List(names))
	}
	quantities, day := []string{outcome.RootArea, outcome.LeafArea}, r.LastDay
	if a := r.Answer; a.Planned {
		quantities, day = append([]string{a.Quantity}, quantities...), a.Day
	}
	for _, quantity := range quantities {
		for _, c := range r.On(day).Comparisons {
			if c.Kind == outcome.AgainstControl && c.Treatment == treatment && c.Quantity == quantity && c.Estimate.Known() {
				return c, nil
			}
		}
	}
	return outcome.Comparison{}, fmt.Errorf("%s of %s was not compared on day %d: `traygauge compare` shows the reason", strings.Join(quantities[:len(quantities)-1], ", ")+" or "+quantities[len(quantities)-1], treatment, day)
}
