package main

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/compare"
	"traygauge/measure/wording"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

// trialOptions say what of a trial's comparisons is printed.
type trialOptions struct {
	JSON     bool
	Day      int // lastReview, or a day since sowing
	AllPairs bool
	All      bool // sentences, all quantities, growth and colour, all limits
}

// lastReview stands for the last day measured; no day can be that.
const lastReview = math.MinInt

// runCompareTrial prints the comparisons of the trial in folder dir.
func runCompareTrial(opts trialOptions, dir string, std *streams) error {
	trial, err := fromfolder.Read(dir, version(), std.Err)
	if err != nil {
		return err
	}
	r, err := trial.Compare(compare.Options{AllPairs: opts.AllPairs}, std.Err)
	if err != nil {
		return err
	}
	day := r.LastDay
	if opts.Day != lastReview {
		if day = opts.Day; !slices.Contains(r.Days, day) {
			return fmt.Errorf("day %d has no usable photo: photos exist for %s", day, wording.Days(r.Days))
		}
		r = r.On(day)
	}
	if opts.JSON {
		err = terminal.WriteJSON(std.Out, terminal.ComparedOf(r))
	} else {
		err = terminal.WriteComparisons(std.Out, trial.Plan, r, day, opts.All)
	}
	if err != nil {
		return err
	}
	return needLooking(trial.Attention())
}
