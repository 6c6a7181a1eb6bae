package main

import (
	"fmt"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/plan/summary"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

// runDrawPlaces draws random positions and prints them for the plan. It does not change the plan.
func runDrawPlaces(opts checkOptions, dir string, std *streams) error {
	if opts.Seed < 0 || opts.Seed > plan.MaxSeed {
		return usageError{fmt.Errorf("--seed %d: give a whole number from 1 to %d", opts.Seed, plan.MaxSeed)}
	}
	p, err := fromfolder.Plan(dir, std.Err)
	if err != nil {
		return err
	}
	drawn, err := summary.Draw(p, opts.Seed)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(p.Trays, func(t plan.Tray) bool { return t.Position > 0 }) {
		fmt.Fprintln(std.Err, "The plan already has positions. Draw only once, before sowing: a draw repeated until you like the result is not random.")
	}
	if opts.JSON {
		return terminal.WriteEscapedJSON(std.Out, drawn)
	}
	_, err = fmt.Fprintf(std.Out, "# Positions drawn at random. Replace the trays section of %s with these lines, then print the bench map again.\n%s", plan.FileName, p.PlacesYAML(drawn.Seed))
	return err
}
