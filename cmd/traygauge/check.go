package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"traygauge/measure/finding"
	"traygauge/measure/plan/summary"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

type checkOptions struct {
	On         string // the day, year-month-day; "" is today
	JSON       bool
	Past       []string // folders of past trials, for the variation between trays
	DrawPlaces bool
	Seed       int // for drawing; 0: any
}

func newCheckCommand(std *streams) *cobra.Command {
	var opts checkOptions
	cmd := &cobra.Command{
		Use:   "check DIR",
		Short: "Check the plan for mistakes and fair controls; show what is due and what to mix",
		Long: `Check a trial’s plan and log. Mistakes and warnings are listed with their line numbers. If the plan has no mistakes, check
also prints a summary: treatments with their controls and trays, the smallest difference that the trial can show, what is due
today, what was not done on the planned day, and what to mix.

--draw-places assigns trays to positions on the bench at random. It prints lines to paste into the plan, with the seed, so
that anyone can repeat the draw.

Exit codes: 0 no mistakes (there may be warnings), 1 mistakes or no plan, 2 wrong usage.`,
		Example: `  traygauge check kale-trial
  traygauge check kale-trial --on 2026-03-16
  traygauge check kale-trial --past last-spring
  traygauge check kale-trial --draw-places`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCheck(cmd.Context(), opts, args[0], time.Now(), std)
		},
	}
	cmd.Flags().StringVar(&opts.On, "on", "", "show what is due on `DATE` (year-month-day) instead of today")
	cmd.Flags().BoolVar(&opts.JSON, "json", false, "print JSON")
	cmd.Flags().StringArrayVar(&opts.Past, "past", nil, "use the tray-to-tray variation of the past trial in `DIR`; can be repeated")
	cmd.Flags().BoolVar(&opts.DrawPlaces, "draw-places", false, "assign trays to bench positions at random, and print the lines for the plan")
	cmd.Flags().IntVar(&opts.Seed, "seed", 0, "seed `NUMBER`, to repeat an earlier draw")
	return cmd
}

// runCheck checks the trial in folder dir, for today or for the day in opts, and prints the result.
func runCheck(_ context.Context, opts checkOptions, dir string, now time.Time, std *streams) error {
	var on time.Time
	if opts.On != "" {
		var err error
		if on, err = time.Parse(time.DateOnly, opts.On); err != nil {
			return usageError{fmt.Errorf("--on %s is not a date: write year-month-day, such as 2026-03-16", opts.On)}
		}
	}
	if opts.DrawPlaces {
		return runDrawPlaces(opts, dir, std)
	}
	if opts.Seed != 0 {
		return usageError{errors.New("--seed can only be used with --draw-places")}
	}
	variations, err := fromfolder.Variations(opts.Past, version(), std.Err)
	if err != nil {
		return err
	}
	checked, err := summary.Check(dir, now, on, variations)
	if err != nil {
		return err
	}
	if opts.JSON {
		err = terminal.WriteEscapedJSON(std.Out, checked)
	} else {
		err = terminal.WriteChecked(std.Out, checked, dir)
	}
	if err != nil {
		return err
	}
	if finding.HasErrors(checked.Findings) {
		return errors.New(terminal.CountFindings(checked.Findings, finding.Error, "mistake") + " to fix in " + dir)
	}
	return nil
}
